"""What a technician reads: the bench list and one job card."""

from __future__ import annotations

from typing import cast

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import load_job, technician_only
from builds.actions.errors import Refused
from builds.actions.ready import check_may_begin
from builds.forms.technician import CountForm, StopForm, TroubleForm
from builds.models import Job, State, User
from builds.selectors.bench import bench_list
from builds.selectors.bench_job import bench_sheet
from builds.selectors.job_history import own_last_act
from builds.views.phone.kept import kept_on_phone

FORMS: dict[str, type[forms.Form]] = {
    "stop": StopForm,
    "trouble": TroubleForm,
    "count": CountForm,
}


@technician_only
@kept_on_phone
@require_safe
def bench(request: HttpRequest) -> HttpResponse:
    found = bench_list(cast(User, request.user))
    return render(request, "technician/bench.html", {"list": found})


@technician_only
@kept_on_phone
@load_job
@require_safe
def bench_job(request: HttpRequest, job: Job) -> HttpResponse:
    return job_page(request, job, asked=request.GET.get("ask", ""))


def job_page(
    request: HttpRequest,
    job: Job,
    *,
    asked: str = "",
    form: forms.Form | None = None,
    status: int = 200,
) -> HttpResponse:
    """Show the card, with the question that was asked open."""
    shown = {name: kind(auto_id=f"id_{name}_%s") for name, kind in FORMS.items()}
    if form is not None:
        shown[asked] = form
    user = cast(User, request.user)
    context = {
        "job": bench_sheet(job, user.person),
        "not_yet": _not_yet(job),
        "asked": asked,
        "forms": shown,
        "mine": own_last_act(user, job),
    }
    return render(request, "technician/job.html", context, status=status)


def _not_yet(job: Job) -> str:
    """Say why the job may not begin, in the words a press of Start would bring."""
    if job.state != State.OPEN:
        return ""
    try:
        check_may_begin(job)
    except Refused as refusal:
        return refusal.words
    return ""
