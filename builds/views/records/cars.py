"""Cars: taken on, changed, left out and put back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only, load_build
from builds.actions import builds as act
from builds.forms.cars import CarEditForm, CarForm
from builds.models import Build
from builds.views.records.answers import attempt, done, posted, show, turn, who


@lead_only
@require_http_methods(["GET", "POST"])
def car_new(request: HttpRequest) -> HttpResponse:
    form = CarForm(posted(request))
    build = attempt(
        form, lambda: act.create_build(by=who(request), **form.fields_of_row())
    )
    if build:
        return done(request, f"{build} is in the plan.", "car", build.key)
    return show(request, "car_new.html", form)


@lead_only
@load_build
@require_http_methods(["GET", "POST"])
def car_edit(request: HttpRequest, build: Build) -> HttpResponse:
    form = CarEditForm(posted(request), initial=CarEditForm.facts_of(build))
    if attempt(form, lambda: _change(request, build, form)):
        return done(request, f"{build} is saved.", "car", build.key)
    build.refresh_from_db()
    return show(request, "car_edit.html", form, build=build)


@lead_only
@load_build
@require_POST
def car_leave_out(request: HttpRequest, build: Build) -> HttpResponse:
    words = f"{build} is left out of the plan."
    return turn(request, act.leave_out_build, words, "car", "car_restore", build=build)


@lead_only
@load_build
@require_POST
def car_restore(request: HttpRequest, build: Build) -> HttpResponse:
    words = f"{build} is back in the plan."
    return turn(request, act.restore_build, words, "car", "car_leave_out", build=build)


def _change(request: HttpRequest, build: Build, form: CarEditForm) -> Build:
    fields, version = form.fields_of_row(), form.version_seen()
    if not fields:
        return build
    return act.change_build(
        by=who(request), build=build, fields=fields, version=version
    )
