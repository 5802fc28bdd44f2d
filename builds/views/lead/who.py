"""Who does a job, with the odds before and after."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from builds.access.gates import lead_only, load_job
from builds.actions.hands import name_person
from builds.forms.who import FREE, WhoForm
from builds.models import Job, Person
from builds.planning.exchange import PlanError
from builds.planning.hours import load_of
from builds.planning.preview import preview
from builds.selectors.answers import Facts, moment, newest
from builds.selectors.weeks import WEEK, Load, monday_of
from builds.selectors.what_if import WhatIf, compare, fresh_answer
from builds.selectors.who import who_page, why_no_hands, why_not
from builds.views.lead.job_answers import UNCHANGED
from builds.views.records.answers import attempt, done, posted, undo_by, who

ODDS = "#odds"


@dataclass(frozen=True, slots=True)
class Asked:
    """A choice that is looked at before it is made."""

    words: str = ""
    key: str = ""
    found: WhatIf | None = None
    refused: str = ""

    @property
    def act(self) -> str:
        """Say what the button does."""
        to = self.words.removeprefix("Given to ")
        return f"Give it to {to}" if self.key else f"Leave it to {to}"


@lead_only
@load_job
@require_http_methods(["GET", "HEAD", "POST"])
def job_who(request: HttpRequest, job: Job) -> HttpResponse:
    was = job.person
    form = WhoForm(posted(request))
    held = attempt(
        form,
        lambda: name_person(by=who(request), job=job, person=_chosen(form)),
    )
    if held is None:
        return _show(request, job, form)
    if held.person == was:
        return done(request, f"{_given(held)} {UNCHANGED}", "job", job.key)
    undo = undo_by("job_who", job.key, person=was.key if was else "")
    return done(request, _given(held), "job", job.key, undo=undo)


def _chosen(form: WhoForm) -> Person | None:
    person: Person | None = form.cleaned_data["person"]
    return person


def _given(job: Job) -> str:
    if job.person is None:
        return f"“{job}” goes to whoever is free."
    return f"“{job}” is given to {job.person}."


def _show(request: HttpRequest, job: Job, form: WhoForm) -> HttpResponse:
    forecast = newest()
    answer: Facts = forecast.answer if forecast else {}
    page = who_page(job, answer, _load(job, answer))
    looked = WhoForm(request.GET) if "person" in request.GET else None
    asked = Asked()
    if looked is not None and looked.is_valid() and not why_no_hands(job):
        asked = _look(job, _chosen(looked))
    chosen = request.GET.get("person", job.person.key if job.person else "")
    context = {"page": page, "form": form, "asked": asked, "chosen": chosen}
    context |= {"no_hands": why_no_hands(job)}
    part = ODDS if request.headers.get("HX-Target") == "odds" else ""
    status = 422 if form.is_bound else 200
    return render(request, "lead/who.html" + part, context, status=status)


def _load(job: Job, answer: Facts) -> Load | None:
    """Give everybody's hours to the end of the week the job is planned for."""
    start = moment(answer.get("jobs", {}).get(job.key, {}).get("planned_start"))
    return load_of(answer, monday_of(start.date()) + WEEK) if start else None


def _look(job: Job, person: Person | None) -> Asked:
    """Work out what the choice does to the odds, or say why it cannot be made."""
    name = str(person) if person else FREE.lower()
    words = f"Given to {name}"
    refusal = why_not(job, person) if person else ""
    if refusal:
        return Asked(words, refused=refusal)
    key = person.key if person else ""
    try:
        then: Facts = preview(change={job.key: {"person": key or None}})
        return Asked(words, key, compare(fresh_answer() or preview(), then))
    except PlanError as error:
        return Asked(words, refused=str(error))
