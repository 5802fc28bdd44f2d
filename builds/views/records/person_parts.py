"""What someone may do, and the days they are away."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from builds.access.gates import lead_only, load_person
from builds.actions import people as act
from builds.forms.spans import SpanForm
from builds.forms.trades import trades_form
from builds.models import DaysAway, Person
from builds.selectors.people import person_page
from builds.views.records.answers import (
    attempt,
    attempt_all,
    done,
    posted,
    press,
    undo_by,
    who,
)
from builds.views.records.person_page import show_person


@lead_only
@load_person
@require_POST
def person_trades(request: HttpRequest, person: Person) -> HttpResponse:
    trades = trades_form(posted(request), person, person_page(person=person).trades)
    if attempt_all(
        trades,
        lambda: act.set_trades(
            by=who(request),
            person=person,
            levels=trades.levels(),
            paces=trades.paces(),
            version=trades.version_seen(),
        ),
    ):
        return done(request, f"{person}’s trades are saved.", "person", person.key)
    person.refresh_from_db()
    return show_person(request, person, trades=trades)


@lead_only
@load_person
@require_POST
def days_away_add(request: HttpRequest, person: Person) -> HttpResponse:
    now = person_page(person=person).now
    form = SpanForm(posted(request), now=now, prefix="away")
    away = attempt(
        form,
        lambda: act.add_days_away(by=who(request), person=person, **form.days()),
    )
    if away:
        words = f"{person} is away {form.said()}."
        undo = undo_by("days_away_remove", person.key, away.pk)
        return done(request, words, "person", person.key, undo=undo)
    return show_person(request, person, away=form)


@lead_only
@load_person
@require_POST
def days_away_remove(request: HttpRequest, person: Person, number: int) -> HttpResponse:
    away = get_object_or_404(DaysAway, person=person, pk=number)
    days = {"away-first": away.first, "away-last": away.last}
    return press(
        request,
        lambda: act.remove_days_away(by=who(request), away=away),
        f"{person} is here after all.",
        "person",
        person.key,
        undo=undo_by("days_away_add", person.key, **days),
    )
