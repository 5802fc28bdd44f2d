"""What moved in the plan, and which order people follow."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from builds.access.gates import lead_only
from builds.actions.plan import follow_new_plan, keep_old_order
from builds.selectors.answers import newest
from builds.selectors.moved import moved_page
from builds.selectors.plan_words import plan_words
from builds.views.records.answers import press, who


@lead_only
@require_safe
def moved(request: HttpRequest) -> HttpResponse:
    forecast = newest()
    answer = forecast.summary if forecast else {}
    context = {"page": moved_page(answer), "plan": plan_words(answer)}
    return render(request, "lead/moved.html", context)


@lead_only
@require_POST
def plan_follow(request: HttpRequest) -> HttpResponse:
    return press(
        request,
        lambda: follow_new_plan(by=who(request)),
        "Everybody follows the new plan.",
        "moved",
    )


@lead_only
@require_POST
def plan_keep(request: HttpRequest) -> HttpResponse:
    return press(
        request,
        lambda: keep_old_order(by=who(request)),
        "The old order is kept. Jobs move only where something forces them to.",
        "moved",
    )
