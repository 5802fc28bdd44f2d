"""Places: added, changed, taken away."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only, load_place
from builds.actions import places as act
from builds.actions.errors import Refused
from builds.forms.places import PlaceEditForm, PlaceForm
from builds.models import Place
from builds.selectors.people import calendars
from builds.selectors.workshop_settings import asked_by
from builds.views.records.answers import attempt, done, posted, show, undo_by, who


@lead_only
@require_http_methods(["GET", "POST"])
def place_new(request: HttpRequest) -> HttpResponse:
    form = PlaceForm(posted(request), calendars=calendars())
    place = attempt(
        form, lambda: act.create_place(by=who(request), **form.fields_of_row())
    )
    if place:
        words = f"{place} is there. Say on a job that it is done there."
        return done(request, words, "place", place.key)
    return show(request, "place_new.html", form)


@lead_only
@load_place
@require_http_methods(["GET", "POST"])
def place(request: HttpRequest, place: Place) -> HttpResponse:
    facts = PlaceEditForm.facts_of(place)
    form = PlaceEditForm(posted(request), calendars=calendars(), initial=facts)
    if attempt(
        form,
        lambda: act.change_place(
            by=who(request),
            place=place,
            fields=form.fields_of_row(),
            version=form.version_seen(),
        ),
    ):
        return done(request, f"{place} is saved.", "place", place.key)
    place.refresh_from_db()
    jobs = asked_by(place=place)
    return show(request, "place.html", form, place=place, jobs=jobs)


@lead_only
@load_place
@require_POST
def place_remove(request: HttpRequest, place: Place) -> HttpResponse:
    week = place.calendar.key if place.calendar else ""
    facts = {"name": str(place), "capacity": place.capacity, "calendar": week}
    try:
        act.remove_place(by=who(request), place=place)
    except Refused as refused:
        messages.error(request, refused.words)
        return redirect("place", place.key)
    undo = undo_by("place_new", **facts)
    return done(request, f"{place} is taken away.", "workshop", undo=undo)
