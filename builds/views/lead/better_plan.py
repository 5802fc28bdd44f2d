"""The long look for a better plan."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from builds.access.gates import lead_only
from builds.actions.errors import Refused
from builds.actions.search import ask_for_search, stop_search
from builds.forms.search import SearchForm
from builds.models import User
from builds.planning.search_row import is_current
from builds.selectors.better_plan import better_plan_page

PAGE = "lead/better_plan.html"
STAND = "#stand"


@lead_only
@require_safe
def better_plan(request: HttpRequest) -> HttpResponse:
    part = STAND if request.headers.get("HX-Target") == "stand" else ""
    return _page(request, SearchForm(), part=part)


@lead_only
@require_POST
def better_plan_ask(request: HttpRequest) -> HttpResponse:
    form = SearchForm(request.POST)
    if not form.is_valid():
        return _page(request, form, status=422)
    try:
        user = cast(User, request.user)
        ask_for_search(by=user, minutes=form.cleaned_data["minutes"])
    except Refused as refused:
        return _page(request, form, refused=refused.words, status=409)
    return redirect("better_plan")


@lead_only
@require_POST
def better_plan_stop(request: HttpRequest) -> HttpResponse:
    stop_search(by=cast(User, request.user))
    return redirect("better_plan")


def _page(
    request: HttpRequest,
    form: SearchForm,
    *,
    part: str = "",
    refused: str = "",
    status: int = 200,
) -> HttpResponse:
    context = {"page": better_plan_page(is_current), "form": form, "refused": refused}
    return render(request, PAGE + part, context, status=status)
