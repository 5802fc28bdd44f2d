"""The chase list: who to ring, and what came of it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_POST, require_safe

from builds.access.gates import lead_only, load_job
from builds.actions.promises import record_promise
from builds.actions.replies import accept_reply, refuse_reply
from builds.charts import wording
from builds.forms.calls import CallForm
from builds.models import Job, VendorReply, Workshop
from builds.selectors.chase import chase_page
from builds.views.records.answers import attempt, done, press, who


@lead_only
@require_safe
def ring(request: HttpRequest) -> HttpResponse:
    return _show(request)


@lead_only
@load_job
@require_POST
def ring_log(request: HttpRequest, job: Job) -> HttpResponse:
    now = Workshop.current().clock()
    form = CallForm(request.POST, now=now, auto_id="call-sent-%s")
    promise = attempt(
        form,
        lambda: record_promise(
            by=who(request), job=job, given=now.date(), **form.cleaned_data
        ),
    )
    if promise is None:
        return _show(request, form, job)
    return done(request, _words(job, promise.date), "ring")


@lead_only
@require_POST
def reply_accept(request: HttpRequest, number: int) -> HttpResponse:
    reply = get_object_or_404(VendorReply.objects.select_related("job"), pk=number)
    words = _words(reply.job, reply.date)
    return press(
        request, lambda: accept_reply(by=who(request), reply=reply), words, "ring"
    )


@lead_only
@require_POST
def reply_refuse(request: HttpRequest, number: int) -> HttpResponse:
    reply = get_object_or_404(VendorReply.objects.select_related("job"), pk=number)
    words = f"“{reply.job}”: the date that stood still stands. Tell them so."
    return press(
        request, lambda: refuse_reply(by=who(request), reply=reply), words, "ring"
    )


def _words(job: Job, day: object) -> str:
    if day is None:
        return f"“{job}”: taken down, with no date."
    return f"“{job}” is promised for {wording.day_year(day)}."  # type: ignore[arg-type]


def _show(
    request: HttpRequest, sent: CallForm | None = None, job: Job | None = None
) -> HttpResponse:
    page, now = chase_page(), Workshop.current().clock()
    number = 0
    groups = []
    for group in page.groups:
        lines = []
        for line in group.lines:
            number += 1
            mine = sent is not None and job is not None and line.key == job.key
            fresh = CallForm(now=now, auto_id=f"call-{number}-%s")
            lines.append((line, sent if mine else fresh))
        groups.append((group, lines))
    asked = job.key if job is not None else ""
    context = {"page": page, "groups": groups, "asked": asked}
    # What was typed about something that is no longer on the list is not lost.
    listed = any(line.key == asked for group in page.groups for line in group.lines)
    context |= {"stray": sent if sent is not None and not listed else None, "job": job}
    status = 422 if sent is not None else 200
    return render(request, "promises/ring.html", context, status=status)
