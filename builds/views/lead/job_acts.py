"""What the lead does to a job in house: start, stop, finish, leave out and the like.

Every act is one press; the same press sent twice is one act, and the page says so.
"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from builds.access.gates import lead_only, load_job
from builds.actions import decisions, jobs, work
from builds.actions.undo import undo_act
from builds.charts import wording
from builds.forms.job_acts import StopForm
from builds.forms.record import RecordForm
from builds.forms.technician import HURT
from builds.models import Event, Found, Job, State
from builds.selectors.bench_job import already_said
from builds.selectors.job import open_after
from builds.views.lead.job_answers import TWICE, UNCHANGED, fill_in, listed, press
from builds.views.records.answers import who

LOOK_AFTER = "See to the person first."
PUT_DOWN = "put down"


@lead_only
@load_job
@require_POST
def job_start(request: HttpRequest, job: Job) -> HttpResponse:
    def start(job: Job) -> str:
        if job.state == State.UNDER_WAY:
            return f"“{job}” is already under way. {UNCHANGED}"
        work.start_job(by=who(request), job=job)
        return f"“{job}” is under way."

    return press(request, job, start)


@lead_only
@load_job
@require_POST
def job_finish(request: HttpRequest, job: Job) -> HttpResponse:
    def finish(job: Job) -> str:
        if job.state == State.DONE:
            return f"“{job}” is already done. {UNCHANGED}"
        work.finish_job(by=who(request), job=job)
        return f"“{job}” is done."

    return press(request, job, finish)


@lead_only
@load_job
@require_POST
def job_reopen(request: HttpRequest, job: Job) -> HttpResponse:
    def reopen(job: Job) -> str:
        if job.state != State.DONE:
            return f"“{job}” is not done. {UNCHANGED}"
        work.reopen_job(by=who(request), job=job)
        return f"“{job}” is open again."

    return press(request, job, reopen)


@lead_only
@load_job
@require_POST
def job_undo(request: HttpRequest, job: Job, number: int) -> HttpResponse:
    event = get_object_or_404(Event, job=job, pk=number)

    def take_back(job: Job) -> str:
        undo_act(by=who(request), event=event)
        return f"“{job}” is as it was before."

    return press(request, job, take_back)


@lead_only
@load_job
@require_POST
def job_stop(request: HttpRequest, job: Job) -> HttpResponse:
    user = who(request)

    def stop(job: Job, form: RecordForm) -> str:
        assert isinstance(form, StopForm)
        left, words = form.hours_left(job), form.cleaned_data["words"]
        if already_said(user, job, "stopped job", PUT_DOWN, words, remaining=left):
            return TWICE
        work.stop_job(by=user, job=job, remaining=left, reason=PUT_DOWN, words=words)
        return f"“{job}” is put down with {wording.hours(left)} to go."

    return fill_in(request, job, "stop", stop)


@lead_only
@load_job
@require_POST
def job_trouble(request: HttpRequest, job: Job) -> HttpResponse:
    user = who(request)

    def tell(job: Job, form: RecordForm) -> str:
        reason, words = form.cleaned_data["reason"], form.cleaned_data["words"]
        if already_said(user, job, "reported trouble", reason, words):
            return TWICE
        work.report_trouble(by=user, job=job, reason=reason, words=words)
        told = f"Written down: {reason[0].lower()}{reason[1:]}."
        return f"{LOOK_AFTER} {told}" if reason == HURT else told

    return fill_in(request, job, "trouble", tell)


@lead_only
@load_job
@require_POST
def job_leave_out(request: HttpRequest, job: Job) -> HttpResponse:
    def leave_out(job: Job, form: RecordForm) -> str:
        if job.state == State.LEFT_OUT:
            return f"“{job}” is already left out. {UNCHANGED}"
        words = form.cleaned_data["words"]
        jobs.leave_out_job(by=who(request), job=job, words=words)
        after = listed(open_after(job))
        return f"“{job}” is left out." + (
            f" No longer waiting for it: {after}." * bool(after)
        )

    return fill_in(request, job, "leave_out", leave_out)


@lead_only
@load_job
@require_POST
def job_restore(request: HttpRequest, job: Job) -> HttpResponse:
    def restore(job: Job) -> str:
        if job.state != State.LEFT_OUT:
            return f"“{job}” is in the plan. {UNCHANGED}"
        jobs.restore_job(by=who(request), job=job)
        after = listed(open_after(job))
        return f"“{job}” is back in the plan." + (
            f" Waiting for it: {after}." * bool(after)
        )

    return press(request, job, restore)


@lead_only
@load_job
@require_POST
def job_choice(request: HttpRequest, job: Job) -> HttpResponse:
    def choose(job: Job, form: RecordForm) -> str:
        if job.state == State.DONE:
            return f"“{job}” is already decided. {UNCHANGED}"
        choice, words = form.cleaned_data["choice"], form.cleaned_data["words"]
        decisions.record_choice(by=who(request), job=job, choice=choice, words=words)
        return f"“{job}”: {choice}."

    return fill_in(request, job, "choice", choose)


@lead_only
@load_job
@require_POST
def job_found(request: HttpRequest, job: Job) -> HttpResponse:
    def answer(job: Job, form: RecordForm) -> str:
        yes, words = form.cleaned_data["answer"] == "yes", form.cleaned_data["words"]
        if job.found == (Found.YES if yes else Found.NO):
            return TWICE
        decisions.answer_found_work(by=who(request), job=job, yes=yes, words=words)
        if yes:
            return f"“{job}” is in: the customer said yes."
        return f"“{job}” is left out: the customer said no."

    return fill_in(request, job, "found", answer)
