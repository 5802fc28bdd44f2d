"""Give every request a code, and leave one line about it."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from builds.upkeep import request_ids

log = logging.getLogger("builds.requests")


class RequestIdMiddleware:
    """Stand first, so that whatever goes wrong further in has a code."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer; the code goes out with the answer, too."""
        code = request_ids.begin()
        began = time.monotonic()
        try:
            answer = self.get_response(request)
            answer["X-Request-ID"] = code
            _tell(request, answer.status_code, time.monotonic() - began)
        finally:
            request_ids.end()
        return answer


def _tell(request: HttpRequest, status: int, seconds: float) -> None:
    """Leave the line; who it was is told only if that is known anyway."""
    user = getattr(request, "_cached_user", None)
    facts = {
        "method": request.method,
        "path": request.path,
        "status": status,
        "ms": round(seconds * 1000),
        "user": getattr(user, "pk", None),
    }
    log.info("%s %s %d", request.method, request.path, status, extra={"facts": facts})
