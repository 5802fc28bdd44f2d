"""The job page, with the question that was asked open."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only, load_job
from builds.forms import job_acts as forms
from builds.forms.record import RecordForm
from builds.models import Job, Kind, Workshop
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


# What opens a question, and the button that answers it, in the order of the page.
ASKS = {
    "found": ("Nobody quoted this: the customer’s yes or no", "Take down the answer"),
    "choice": ("The customer has chosen", "Take down the choice"),
    "stop": ("Put it down with some left", "Put it down"),
    "send": ("It has left for the vendor", "Sent"),
    "count": ("Count pieces in", "Count in"),
    "back": ("It is all back and looked over", "Accept it"),
    "promise": ("Take down a date they gave", "Keep the date"),
    "trouble": ("Something’s wrong", "Write it down"),
}
ORDERED = ("It is ordered", "Ordered")


@dataclass(frozen=True, slots=True)
class Ask:
    """A question of the page that is folded away until somebody asks it."""

    name: str
    form: RecordForm
    action: str
    summary: str
    act: str


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
    context |= {"refused": refused, "asks": _asks(job, acts, shown)}
    return render(request, "lead/job.html", context, status=status)


def _asks(
    job: Job, acts: Collection[str], forms: Mapping[str, RecordForm]
) -> list[Ask]:
    words = ASKS | ({"send": ORDERED} if job.kind == Kind.ORDER else {})
    return [
        Ask(name, forms[name], reverse(f"job_{name}", args=[job.key]), *said)
        for name, said in words.items()
        if name in acts
    ]
