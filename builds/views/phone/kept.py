"""Pages that a technician's phone may keep, to be read without a connection."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest
from django.http.response import HttpResponseBase

from builds.access.roles import is_technician

KEEP = "X-Keep"  # whose phone may keep it; builds/static/builds/js/worker.js reads it

View = Callable[..., HttpResponseBase]


def kept_on_phone(view: View) -> View:
    """Let the phone of the technician who looks keep a copy of this page.

    Nothing else is kept: neither anybody else's pages nor anything without this.
    """

    @wraps(view)
    def keep(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        answer = view(request, *args, **kwargs)
        looks = request.method == "GET" and answer.status_code == 200
        if looks and is_technician(request.user):
            answer[KEEP] = str(request.user.pk)
        return answer

    return keep
