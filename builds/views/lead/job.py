"""The job page, with the question that was asked open."""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only, load_job
from builds.forms import job_acts as forms
from builds.forms.record import RecordForm
from builds.models import Job, Workshop
from builds.selectors.job import job_page

FORMS: dict[str, type[RecordForm]] = {
    "stop": forms.StopForm,
    "trouble": forms.TroubleForm,
    "promise": forms.PromiseForm,
    "choice": forms.ChoiceForm,
    "found": forms.FoundForm,
    "send": forms.SendForm,
    "count": forms.CountForm,
    "back": forms.WordsForm,
    "leave_out": forms.WordsForm,
}


@lead_only
@load_job
@require_safe
def job(request: HttpRequest, job: Job) -> HttpResponse:
    return show_job(request, job, asked=request.GET.get("ask", ""))


def form_for(request: HttpRequest | None, name: str) -> RecordForm:
    """Give the form of an act, with what was sent if anything was."""
    data = request.POST if request else None
    now = Workshop.current().clock()
    return FORMS[name](data, now=now, auto_id=f"id_{name}_%s")


def show_job(
    request: HttpRequest,
    job: Job,
    *,
    asked: str = "",
    form: RecordForm | None = None,
    refused: Sequence[str] = (),
    status: int = 200,
) -> HttpResponse:
    """Show the page; a form that was sent keeps what was typed in it."""
    shop = Workshop.current()
    page, now = job_page(job, reading=shop.reading), shop.clock()
    acts = page.acts | ({asked} if form else set())
    shown = {
        name: kind(now=now, auto_id=f"id_{name}_%s")
        for name, kind in FORMS.items()
        if name in acts
    }
    if form is not None:
        shown[asked] = form
    context = {"page": page, "acts": acts, "forms": shown, "asked": asked}
    context |= {"refused": refused}
    return render(request, "lead/job.html", context, status=status)
