"""What every address with a secret does: limits, headers, one answer to all misses.

OWASP ASVS 5.0, 14.2.1 (no secrets in addresses longer than needed) and 16.2.5; OWASP
Forgot Password Cheat Sheet on secrets in addresses.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from builds.access.visitors import address_of
from builds.actions.knocks import LOOKS, MISSES, is_full, knock

View = Callable[..., HttpResponse]
HEADERS = {
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    "Cache-Control": "no-store, private",
}


def with_care(view: View) -> View:
    """Limit how often an address is tried, and keep what it shows to the visitor."""

    @wraps(view)
    def careful(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        whose = address_of(request)
        if is_full(LOOKS, whose) or is_full(MISSES, whose):
            answer = render(request, "shared/too_often.html", status=429)
            answer["Retry-After"] = str(int(LOOKS.within.total_seconds()))
        else:
            knock(LOOKS, whose)
            answer = view(request, *args, **kwargs)
            if answer.status_code == 404:
                knock(MISSES, whose)
        for name, value in HEADERS.items():
            answer.headers.setdefault(name, value)
        return answer

    return careful


def nothing(request: HttpRequest) -> HttpResponse:
    """Answer a wrong, an old, a revoked and a guessed secret all alike."""
    return render(request, "shared/nothing.html", status=404)
