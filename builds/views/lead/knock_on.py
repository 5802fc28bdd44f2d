"""The knock-on of a job, and what if it came late or ended today."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only, load_job
from builds.charts import wording
from builds.forms.slide import SlideForm
from builds.models import Job
from builds.planning.exchange import PlanError
from builds.planning.preview import preview
from builds.selectors.answers import Facts
from builds.selectors.knock_on import knock_on_page
from builds.selectors.what_if import WhatIf, compare, fresh_answer

SLIDE = "#slide"


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked, in words, and what came of it."""

    words: str = ""
    found: WhatIf | None = None
    refused: str = ""


@lead_only
@load_job
@require_safe
def knock_on(request: HttpRequest, job: Job) -> HttpResponse:
    page = knock_on_page(job)
    typed = "days" in request.GET
    form = SlideForm(request.GET if typed else None, initial={"days": 5})
    bad = typed and not form.is_valid()
    asked = Asked() if bad or not page.open else _ask(request, job, form)
    context = {"page": page, "form": form, "asked": asked}
    part = SLIDE if request.headers.get("HX-Target") == "slide" else ""
    status = 422 if bad else 200
    return render(request, "lead/knock_on.html" + part, context, status=status)


def _ask(request: HttpRequest, job: Job, form: SlideForm) -> Asked:
    if form.is_bound:
        days = form.cleaned_data["days"]
        words = f"If it ended {wording.days(days)} later"
        return _compare(words, delay={job.key: days} if days else {})
    if request.GET.get("ended") == "today":
        return _compare("If it ended today", finish=[job.key])
    return Asked()


def _compare(
    words: str, *, finish: list[str] | None = None, delay: dict[str, int] | None = None
) -> Asked:
    try:
        then: Facts = preview(finish=finish or (), delay=delay)
        return Asked(words, compare(fresh_answer() or preview(), then))
    except PlanError as error:
        return Asked(words, refused=str(error))
