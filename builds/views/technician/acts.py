"""What a technician does: start, stop, finish, say what is wrong, count in.

Every act is one press; the same press sent twice is one act, and the page says so.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import cast

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from builds.access.gates import load_job, technician_only
from builds.actions.errors import Refused
from builds.actions.outside import check_in_pieces
from builds.actions.undo import undo_act
from builds.actions.work import (
    finish_job,
    locked,
    reopen_job,
    report_trouble,
    start_job,
    stop_job,
)
from builds.charts import wording
from builds.forms.technician import DONE, HURT, CountForm, StopForm, TroubleForm
from builds.models import Event, Job, State, User
from builds.selectors.bench import IN_HOUSE
from builds.selectors.bench_job import already_said
from builds.selectors.last_act import last_act
from builds.views.once import at_version, not_done
from builds.views.phone.outbox import check_unchanged
from builds.views.records.answers import undo_of
from builds.views.technician.bench import job_page

TWICE = "That had already reached us. Nothing was changed."
LOOK_AFTER = "See to the person first, and tell the lead now, face to face."
STOPPED = "put down"

Act = Callable[[Job], str]


@technician_only
@load_job
@require_POST
def bench_start(request: HttpRequest, job: Job) -> HttpResponse:
    user = _user(request)

    def start(job: Job) -> str:
        _check_in_house(job)
        if job.state == State.UNDER_WAY:
            return f"“{job}” is already under way. Nothing was changed."
        start_job(by=user, job=job, person=user.person)
        return f"“{job}” is under way."

    return _do(request, job, start)


@technician_only
@load_job
@require_POST
def bench_stop(request: HttpRequest, job: Job) -> HttpResponse:
    form = StopForm(request.POST, auto_id="id_stop_%s")
    if not form.is_valid():
        return job_page(request, job, asked="stop", form=form, status=422)
    if form.cleaned_data["how"] == DONE:
        return _finish(request, job, form.cleaned_data["words"])
    user, words = _user(request), form.cleaned_data["words"]
    left = form.hours_left(job)

    def stop(job: Job) -> str:
        _check_in_house(job)
        if already_said(user, job, "stopped job", STOPPED, words, remaining=left):
            return TWICE
        stop_job(by=user, job=job, remaining=left, reason=STOPPED, words=words)
        return f"“{job}” is put down with {wording.hours(left)} to go."

    return _do(request, job, stop)


@technician_only
@load_job
@require_POST
def bench_finish(request: HttpRequest, job: Job) -> HttpResponse:
    return _finish(request, job, "")


@technician_only
@load_job
@require_POST
def bench_reopen(request: HttpRequest, job: Job) -> HttpResponse:
    def reopen(job: Job) -> str:
        _check_in_house(job)
        if job.state != State.DONE:
            return TWICE
        reopen_job(by=_user(request), job=job, words="Marked done by mistake")
        return f"“{job}” is open again. Press Start to go on with it."

    return _do(request, job, reopen)


@technician_only
@load_job
@require_POST
def bench_trouble(request: HttpRequest, job: Job) -> HttpResponse:
    form = TroubleForm(request.POST, auto_id="id_trouble_%s")
    if not form.is_valid():
        return job_page(request, job, asked="trouble", form=form, status=422)
    user = _user(request)
    reason, words = form.cleaned_data["reason"], form.cleaned_data["words"]

    def tell(job: Job) -> str:
        if already_said(user, job, "reported trouble", reason, words):
            return TWICE
        report_trouble(by=user, job=job, reason=reason, words=words)
        told = f"Written down for the lead: {reason[0].lower()}{reason[1:]}."
        return f"{LOOK_AFTER} {told}" if reason == HURT else told

    return _do(request, job, tell)


@technician_only
@load_job
@require_POST
def bench_count(request: HttpRequest, job: Job) -> HttpResponse:
    form = CountForm(request.POST, auto_id="id_count_%s")
    if not form.is_valid():
        return job_page(request, job, asked="count", form=form, status=422)
    user, given = _user(request), form.cleaned_data

    def count(job: Job) -> str:
        noted = {} if given["noted"] is None else {"pieces_noted": given["noted"]}
        same = noted | {"pieces_back": given["back"]}
        if already_said(user, job, "checked in pieces", "", given["words"], **same):
            return TWICE
        check_in_pieces(
            by=user,
            job=job,
            pieces_back=given["back"],
            pieces_noted=given["noted"],
            words=given["words"],
        )
        pieces = wording.counted(given["back"], "piece,pieces")
        return f"“{job}”: {pieces} counted in."

    return _do(request, job, count)


@technician_only
@load_job
@require_POST
def bench_undo(request: HttpRequest, job: Job, number: int) -> HttpResponse:
    event = get_object_or_404(Event, job=job, pk=number)

    def take_back(job: Job) -> str:
        undo_act(by=_user(request), event=event)
        return f"“{job}” is as it was before."

    return _do(request, job, take_back)


def _user(request: HttpRequest) -> User:
    return cast(User, request.user)


def _check_in_house(job: Job) -> None:
    if job.kind not in IN_HOUSE:
        raise Refused(f"“{job}” is not work of the bench. Nothing was changed.")


def _finish(request: HttpRequest, job: Job, words: str) -> HttpResponse:
    def finish(job: Job) -> str:
        _check_in_house(job)
        if job.state == State.DONE:
            return f"“{job}” is already done. Nothing was changed."
        finish_job(by=_user(request), job=job, words=words)
        return f"“{job}” is done."

    return _do(request, job, finish)


def _do(request: HttpRequest, job: Job, act: Act) -> HttpResponse:
    """Do it with the job held, so that a second press waits and finds it done."""
    try:
        with transaction.atomic():
            held = locked(job)
            check_unchanged(request, held)
            seen = last_act(job)
            words = act(held)
    except Refused as refusal:
        messages.error(request, refusal.words)
        return _now(not_done(redirect("bench_job", job.key)), job)
    undo = undo_of("bench_undo", _user(request), job, seen)
    messages.success(request, words, extra_tags=f"undo:{undo}" if undo else "")
    return _now(redirect("bench"), job)


def _now(answer: HttpResponse, job: Job) -> HttpResponse:
    return at_version(
        answer, Job.objects.values_list("version", flat=True).get(pk=job.pk)
    )
