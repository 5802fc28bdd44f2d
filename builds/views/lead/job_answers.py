"""What every act on a job does: hold the job, do it, say what came of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from builds.actions.errors import Refused
from builds.actions.work import locked
from builds.forms.record import RecordForm
from builds.models import Job
from builds.selectors.last_act import last_act
from builds.views.lead.job import form_for, show_job
from builds.views.records.answers import reasons, undo_of, who

Act = Callable[[Job], str]
FormAct = Callable[[Job, RecordForm], str]

UNCHANGED = "Nothing was changed."
TWICE = f"That is written down already. {UNCHANGED}"


def press(
    request: HttpRequest,
    job: Job,
    act: Act,
    *,
    asked: str = "",
    form: RecordForm | None = None,
) -> HttpResponse:
    """Do it with the job held, so that a second press waits and finds it done."""
    try:
        with transaction.atomic():
            held = locked(job)
            seen = last_act(job)
            words = act(held)
    except Refused as refused:
        job.refresh_from_db()
        why = reasons(refused)
        return show_job(request, job, asked=asked, form=form, refused=why, status=409)
    undo = undo_of("job_undo", who(request), job, seen)
    messages.success(request, words, extra_tags=f"undo:{undo}" if undo else "")
    return redirect("job", job.key)


def fill_in(request: HttpRequest, job: Job, name: str, act: FormAct) -> HttpResponse:
    """Do what a form asks; one that is not sound comes back as it was typed."""
    form = form_for(request, name)
    if not form.is_valid():
        return show_job(request, job, asked=name, form=form, status=422)
    return press(request, job, lambda held: act(held, form), asked=name, form=form)


def listed(titles: Sequence[str], most: int = 3) -> str:
    """Name some jobs, the first few by title."""
    shown = [f"“{title}”" for title in titles[:most]]
    more = len(titles) - len(shown)
    shown += [f"{more} more"] if more > 0 else []
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if shown[1:] else shown)
