"""In house or out, this vendor or that: one job's ways, compared by odds."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only, load_job
from builds.actions.errors import Refused
from builds.actions.ways import add_way, check_choosable, pick_way, remove_way
from builds.forms.ways import WayForm
from builds.models import Job, PersonTrade, Vendor, Way
from builds.planning.ways import PlanError, odds_of_ways
from builds.selectors.ways import way_lines
from builds.views.records.answers import attempt, done, posted, press, who

ODDS = "#odds"


@lead_only
@load_job
@require_http_methods(["GET", "HEAD", "POST"])
def job_ways(request: HttpRequest, job: Job) -> HttpResponse:
    form = _form(request)
    way = attempt(form, lambda: add_way(by=who(request), job=job, **form.cleaned_data))
    if way is not None:
        return done(request, f"“{way}” is one of its ways.", "job_ways", job.key)
    context: dict[str, object] = {"job": job, "form": form, "no": _why_not(job)}
    context |= _odds(request, job)
    part = ODDS if request.headers.get("HX-Target") == "odds" else ""
    status = 422 if form.is_bound else 200
    return render(request, "promises/ways.html" + part, context, status=status)


@lead_only
@load_job
@require_POST
def way_remove(request: HttpRequest, job: Job, number: int) -> HttpResponse:
    way = get_object_or_404(Way, job=job, pk=number)
    return press(
        request,
        lambda: remove_way(by=who(request), way=way),
        f"“{way}” is taken away.",
        "job_ways",
        job.key,
    )


@lead_only
@load_job
@require_POST
def way_pick(request: HttpRequest, job: Job, number: int) -> HttpResponse:
    way = get_object_or_404(Way, job=job, pk=number)
    return press(
        request,
        lambda: pick_way(by=who(request), way=way),
        f"“{job}” is done this way now: {way}.",
        "job_ways",
        job.key,
    )


def _form(request: HttpRequest) -> WayForm:
    trades = PersonTrade.objects.order_by("trade").values_list("trade", flat=True)
    return WayForm(
        posted(request),
        vendors=Vendor.objects.filter(left_out=False),
        trades=trades.distinct(),
    )


def _why_not(job: Job) -> str:
    try:
        check_choosable(job)
    except Refused as refused:
        return refused.words
    return ""


def _odds(request: HttpRequest, job: Job) -> dict[str, object]:
    if "odds" not in request.GET:
        return {"ways": way_lines(job)}
    try:
        return {"ways": way_lines(job, odds_of_ways(job)), "asked": True}
    except PlanError as error:
        return {"ways": way_lines(job), "refused": str(error)}
