"""What was understood of a field, while it is being typed."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from builds.access.gates import lead_only
from builds.forms.read_back import read_back
from builds.selectors.job_form import day_hours
from builds.selectors.vendors import now
from builds.views.records.answers import show


@lead_only
@require_GET
def understood(request: HttpRequest) -> HttpResponse:
    asked = request.GET
    words = read_back(
        reads=asked.get("reads", ""),
        text=asked.get(asked.get("field", ""), ""),
        kind=asked.get("kind", ""),
        now=now(),
        hours=day_hours(),
    )
    return show(request, "_understood.html", words=words)
