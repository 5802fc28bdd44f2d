"""What the lead does to a job at a vendor: send, count in, accept, take down a date."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from builds.access.gates import lead_only, load_job
from builds.actions import outside, promises
from builds.charts import wording
from builds.forms.record import RecordForm
from builds.models import Job, State, Workshop
from builds.selectors.bench_job import already_said
from builds.selectors.job import same_promise
from builds.views.lead.job_answers import TWICE, UNCHANGED, fill_in
from builds.views.records.answers import who


@lead_only
@load_job
@require_POST
def job_promise(request: HttpRequest, job: Job) -> HttpResponse:
    user, today = who(request), Workshop.current().clock().date()

    def promise(job: Job, form: RecordForm) -> str:
        day, said = form.cleaned_data["promised"], form.cleaned_data["said"]
        if same_promise(job, str(user), said, day, today):
            return TWICE
        promises.record_promise(by=user, job=job, promised=day, said=said, given=today)
        if day is None:
            return f"“{job}”: they would give no date."
        return f"“{job}” is promised for {wording.day_year(day)}."

    return fill_in(request, job, "promise", promise)


@lead_only
@load_job
@require_POST
def job_send(request: HttpRequest, job: Job) -> HttpResponse:
    def send(job: Job, form: RecordForm) -> str:
        if job.sent is not None and job.state in outside.STILL_OUT:
            return f"“{job}” has already gone. {UNCHANGED}"
        outside.send_job(by=who(request), job=job, **form.cleaned_data)
        return f"“{job}” is on its way."

    return fill_in(request, job, "send", send)


@lead_only
@load_job
@require_POST
def job_count(request: HttpRequest, job: Job) -> HttpResponse:
    user = who(request)

    def count(job: Job, form: RecordForm) -> str:
        back, noted, words = (
            form.cleaned_data[one] for one in ("back", "noted", "words")
        )
        same = {"pieces_back": back} | (
            {} if noted is None else {"pieces_noted": noted}
        )
        if already_said(user, job, "checked in pieces", "", words, **same):
            return TWICE
        outside.check_in_pieces(
            by=user, job=job, pieces_back=back, pieces_noted=noted, words=words
        )
        return f"“{job}”: {wording.counted(back, 'piece,pieces')} counted in."

    return fill_in(request, job, "count", count)


@lead_only
@load_job
@require_POST
def job_back(request: HttpRequest, job: Job) -> HttpResponse:
    def book_back(job: Job, form: RecordForm) -> str:
        if job.state == State.DONE:
            return f"“{job}” is already in. {UNCHANGED}"
        outside.book_back(by=who(request), job=job, words=form.cleaned_data["words"])
        return f"“{job}” is back and accepted."

    return fill_in(request, job, "back", book_back)
