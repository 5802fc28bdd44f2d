"""The time zone of one answer ends with it."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import timezone


class WallClockMiddleware:
    """Let what surrounds a page set its time zone (`surround`), for this page alone."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, and forget the zone."""
        with timezone.override(None):
            return self.get_response(request)
