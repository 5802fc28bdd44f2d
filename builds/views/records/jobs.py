"""Jobs: added to a car and changed, and where they are done."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only, load_build, load_job
from builds.actions import jobs as act
from builds.forms.jobs import JobEditForm, JobForm
from builds.forms.places import PlacesForm
from builds.models import Build, Job
from builds.selectors.job_form import first_page, job_choices, places_of_car, uses_of
from builds.selectors.last_act import last_act
from builds.views.records.answers import (
    attempt,
    done,
    posted,
    show,
    undo_of,
    who,
)


@lead_only
@load_build
@require_http_methods(["GET", "POST"])
def job_new(request: HttpRequest, build: Build) -> HttpResponse:
    form = JobForm(posted(request), choices=job_choices())
    job = attempt(
        form,
        lambda: act.create_job(by=who(request), build=build, **form.fields_of_row()),
    )
    if job:
        words = f"“{job}” is added. Say what must come first."
        return done(request, words, "link_add", job.key)
    return show(request, "job_new.html", form, build=build)


@lead_only
@load_job
@require_http_methods(["GET", "POST"])
def job_edit(request: HttpRequest, job: Job) -> HttpResponse:
    choices = job_choices()
    facts = JobEditForm.facts_of(job)
    form = JobEditForm(posted(request), choices=choices, initial=facts)
    seen = last_act(job)
    if attempt(form, lambda: _change(request, job, form)):
        undo = undo_of("job_undo", who(request), job, seen)
        return done(request, f"“{job}” is saved.", "job", job.key, undo=undo)
    job.refresh_from_db()
    near, uses = places_of_car(job=job), uses_of(job=job)
    places = PlacesForm(places=choices.places, uses=uses, near=near)
    first = first_page(job=job, asked="")
    return show(request, "job_edit.html", form, job=job, places=places, first=first)


@lead_only
@load_job
@require_POST
def job_places(request: HttpRequest, job: Job) -> HttpResponse:
    choices = job_choices()
    near = places_of_car(job=job)
    places = PlacesForm(posted(request), places=choices.places, near=near)
    seen = last_act(job)
    if attempt(
        places,
        lambda: act.set_places(by=who(request), job=job, places=places.chosen()),
    ):
        undo = undo_of("job_undo", who(request), job, seen)
        return done(request, f"“{job}” is saved.", "job_edit", job.key, undo=undo)
    form = JobEditForm(choices=choices, initial=JobEditForm.facts_of(job))
    first = first_page(job=job, asked="")
    page: dict[str, Any] = {"job": job, "places": places, "first": first}
    return show(request, "job_edit.html", form, wrong=places, **page)


def _change(request: HttpRequest, job: Job, form: JobEditForm) -> Job:
    fields, version = form.fields_of_row(), form.version_seen()
    if not fields:
        return job
    return act.change_job(by=who(request), job=job, fields=fields, version=version)
