"""Out and back: where every piece is."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only
from builds.selectors.out_and_back import out_page


@lead_only
@require_safe
def out(request: HttpRequest) -> HttpResponse:
    return render(request, "out/out.html", {"page": out_page()})
