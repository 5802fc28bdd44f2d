"""One person's page, which holds three forms: facts, trades and days away."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from builds.forms.people import PersonEditForm
from builds.forms.spans import SpanForm
from builds.forms.trades import TradeFormSet, trades_form
from builds.models import Person
from builds.selectors.people import person_page
from builds.views.records.answers import show


def show_person(
    request: HttpRequest,
    person: Person,
    *,
    form: PersonEditForm | None = None,
    trades: TradeFormSet | None = None,
    away: SpanForm | None = None,
) -> HttpResponse:
    """Show the page with the form that was sent, if any, and the others fresh."""
    page = person_page(person=person)
    facts = PersonEditForm.facts_of(person)
    return show(
        request,
        "person.html",
        form or PersonEditForm(calendars=page.calendars, initial=facts),
        wrong=trades or away,
        page=page,
        trades=trades or trades_form(None, person, page.trades),
        away=away or SpanForm(prefix="away"),
    )
