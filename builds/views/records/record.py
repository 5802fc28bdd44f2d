"""Who changed this and when: of a car, or of everything."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from builds.access.gates import lead_only, load_build
from builds.models import Build
from builds.selectors.record_page import record_page
from builds.views.records.answers import show

LARGEST = 2**63 - 1


@lead_only
@require_GET
def record(request: HttpRequest) -> HttpResponse:
    return _page(request, None)


@lead_only
@load_build
@require_GET
def car_record(request: HttpRequest, build: Build) -> HttpResponse:
    return _page(request, build)


def _page(request: HttpRequest, build: Build | None) -> HttpResponse:
    asked = request.GET.get("before", "")
    number = int(asked) if asked.isdecimal() and len(asked) < 20 else None
    before = number if number is None or number <= LARGEST else None
    page = record_page(build=build, before=before)
    return show(request, "record.html", page=page)
