"""Working weeks: added, changed, made the usual one, taken away."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only, load_calendar
from builds.actions import calendars as act
from builds.actions.errors import Refused
from builds.forms.working_weeks import WorkingWeekEditForm, WorkingWeekForm
from builds.models import WorkCalendar
from builds.selectors import workshop_settings as read
from builds.selectors.vendors import now
from builds.views.records.answers import (
    attempt,
    done,
    posted,
    press,
    show,
    undo_by,
    who,
)


@lead_only
@require_http_methods(["GET", "POST"])
def week_new(request: HttpRequest) -> HttpResponse:
    form = WorkingWeekForm(posted(request), now=now())
    week = attempt(
        form,
        lambda: act.create_calendar(
            by=who(request), name=form.cleaned_data["name"], **form.fields_of_row()
        ),
    )
    if week:
        words = f"“{week}” is there. Choose it where somebody keeps it."
        return done(request, words, "week", week.key)
    return show(request, "week_new.html", form)


@lead_only
@load_calendar
@require_http_methods(["GET", "POST"])
def week(request: HttpRequest, calendar: WorkCalendar) -> HttpResponse:
    if calendar.implied:
        raise Http404
    if request.method == "GET" and request.path != reverse("week", args=[calendar.key]):
        return redirect("week", calendar.key)
    facts = WorkingWeekEditForm.facts_of(calendar)
    form = WorkingWeekEditForm(posted(request), now=now(), initial=facts)
    if attempt(form, lambda: _change(request, calendar, form)):
        return done(request, f"“{calendar}” is saved.", "week", calendar.key)
    calendar.refresh_from_db()
    return show(request, "week.html", form, week=read.week(calendar=calendar))


@lead_only
@load_calendar
@require_POST
def week_usual(request: HttpRequest, calendar: WorkCalendar) -> HttpResponse:
    return press(
        request,
        lambda: act.make_usual(by=who(request), calendar=calendar),
        f"“{calendar}” is the workshop’s usual week now.",
        "week",
        calendar.key,
        undo=undo_by("week_usual", WorkCalendar.objects.all()[0].key),
    )


@lead_only
@load_calendar
@require_POST
def week_remove(request: HttpRequest, calendar: WorkCalendar) -> HttpResponse:
    typed = WorkingWeekForm(initial=WorkingWeekForm.facts_of(calendar)).typed()
    undo = undo_by("week_new", **typed)
    try:
        act.remove_calendar(by=who(request), calendar=calendar)
    except Refused as refused:
        messages.error(request, refused.words)
        return redirect("week", calendar.key)
    return done(request, f"“{calendar}” is taken away.", "workshop", undo=undo)


def _change(
    request: HttpRequest, calendar: WorkCalendar, form: WorkingWeekEditForm
) -> WorkCalendar:
    return act.change_calendar(
        by=who(request),
        calendar=calendar,
        fields=form.fields_of_row(),
        name=form.new_name(),
        version=form.version_seen(),
    )
