"""The addresses of the job page, for now the plain ones."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path

from builds.access.gates import lead_only, load_job
from builds.models import Job


@lead_only
@load_job
def job(request: HttpRequest, job: Job) -> HttpResponse:
    return render(request, "lead/cars.html", {"cars": ()})


urlpatterns = [
    path("jobs/<plan_key:job_key>/", job, name="job"),
    path("jobs/<plan_key:job_key>/knock-on/", job, name="knock_on"),
]
