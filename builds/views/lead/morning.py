"""The morning sheet."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from builds.access.gates import lead_only
from builds.selectors.answers import failure
from builds.selectors.morning import morning_page
from builds.tasks.replan import request_replan


@lead_only
@require_safe
def morning(request: HttpRequest) -> HttpResponse:
    context = {"page": morning_page(), "failure": failure()}
    return render(request, "lead/morning.html", context)


@lead_only
@require_safe
def wall(request: HttpRequest) -> HttpResponse:
    context = {"page": morning_page(), "failure": failure()}
    return render(request, "lead/wall.html", context)


@lead_only
@require_POST
def work_out(request: HttpRequest) -> HttpResponse:
    request_replan()
    messages.success(request, "Dates and odds are being worked out.")
    return redirect("morning")
