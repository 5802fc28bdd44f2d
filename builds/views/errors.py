"""Pages for what went wrong: they ask neither the database nor who is there.

OWASP ASVS 5.0, 16.5.1: nothing of the inside is shown, only a code by which the log
knows what happened.
"""

from __future__ import annotations

import logging
import sys
from collections.abc import Callable

from django.core.exceptions import (
    RequestDataTooBig,
    TooManyFieldsSent,
    TooManyFilesSent,
)
from django.db import DatabaseError, InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

from builds.upkeep import request_ids
from builds.upkeep.health import room_left
from builds.views.error_words import FULL, STALE, WORDS, Words

log = logging.getLogger(__name__)

TOO_BIG = (RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent)
AWAY = (OperationalError, InterfaceError)
LEAST_MB = 2
RETRY = {429: "60", 503: "30"}


def error_page(status: int, words: Words | None = None) -> HttpResponse:
    """Give the page of a status, with the request's code on it."""
    facts = {"words": words or WORDS[status], "code": request_ids.current()}
    answer = HttpResponse(render_to_string("error.html", facts), status=status)
    if status in RETRY:
        answer["Retry-After"] = RETRY[status]
    return answer


def bad_request(_request: HttpRequest, exception: Exception) -> HttpResponse:
    return error_page(413 if isinstance(exception, TOO_BIG) else 400)


def forbidden(_request: HttpRequest, exception: Exception) -> HttpResponse:
    return error_page(403)


def stale_form(_request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form whose token has run out, or that came from elsewhere."""
    log.warning("A form was refused: %s", reason)
    return error_page(403, STALE)


def not_found(_request: HttpRequest, exception: Exception) -> HttpResponse:
    return error_page(404)


def server_error(_request: HttpRequest) -> HttpResponse:
    """Tell a database that is away or full from a fault of ours."""
    fault = sys.exc_info()[1]
    if isinstance(fault, DatabaseError) and _is_full(fault):
        return error_page(503, FULL)
    return error_page(503 if isinstance(fault, AWAY) else 500)


def _is_full(fault: DatabaseError) -> bool:
    """Say whether it is for want of room; SQLite calls it an I/O error, too."""
    return "full" in str(fault) or room_left() < LEAST_MB


class BarePageMiddleware:
    """Put words on an answer that says no and has none."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, with a page where there is only a number."""
        answer = self.get_response(request)
        if answer.status_code not in WORDS or answer.streaming or answer.content:
            return answer
        page = error_page(answer.status_code)
        for name, value in answer.items():
            if name not in ("Content-Type", "Content-Length"):
                page[name] = value
        page.cookies = answer.cookies
        return page
