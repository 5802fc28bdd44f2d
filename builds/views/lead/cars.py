"""The list of cars and the build sheet."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only, load_build
from builds.models import Build
from builds.selectors.car import car_page, car_rows

JOBS = "#jobs"


@lead_only
@require_safe
def cars(request: HttpRequest) -> HttpResponse:
    return render(request, "lead/cars.html", {"cars": car_rows()})


@lead_only
@load_build
@require_safe
def car(request: HttpRequest, build: Build) -> HttpResponse:
    page = car_page(build, request.GET.get("condition", ""))
    part = JOBS if request.headers.get("HX-Target") == "jobs" else ""
    return render(request, "lead/car.html" + part, {"page": page})
