"""People: who works here, what they may do and when they are away."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from builds.access.gates import lead_only, load_person
from builds.actions import people as act
from builds.forms.people import PersonEditForm, PersonForm
from builds.models import Person
from builds.selectors import people as read
from builds.views.records.answers import attempt, done, posted, show, turn, who
from builds.views.records.person_page import show_person


@lead_only
@require_GET
def people(request: HttpRequest) -> HttpResponse:
    return show(request, "people.html", people=read.people_rows())


@lead_only
@require_http_methods(["GET", "POST"])
def person_new(request: HttpRequest) -> HttpResponse:
    form = PersonForm(posted(request), calendars=read.calendars())
    person = attempt(
        form, lambda: act.create_person(by=who(request), **form.fields_of_row())
    )
    if person:
        words = f"{person} works here now. Say what they may do."
        return done(request, words, "person", person.key)
    return show(request, "person_new.html", form)


@lead_only
@load_person
@require_http_methods(["GET", "POST"])
def person(request: HttpRequest, person: Person) -> HttpResponse:
    facts = PersonEditForm.facts_of(person)
    form = PersonEditForm(posted(request), calendars=read.calendars(), initial=facts)
    if attempt(
        form,
        lambda: act.change_person(
            by=who(request),
            person=person,
            fields=form.fields_of_row(),
            version=form.version_seen(),
        ),
    ):
        return done(request, f"{person} is saved.", "person", person.key)
    person.refresh_from_db()
    return show_person(request, person, form=form)


@lead_only
@load_person
@require_POST
def person_leave_out(request: HttpRequest, person: Person) -> HttpResponse:
    words = f"Nothing is planned for {person} any more."
    return turn(
        request, act.leave_out_person, words, "person", "person_restore", person=person
    )


@lead_only
@load_person
@require_POST
def person_restore(request: HttpRequest, person: Person) -> HttpResponse:
    words = f"Work is planned for {person} again."
    return turn(
        request, act.restore_person, words, "person", "person_leave_out", person=person
    )
