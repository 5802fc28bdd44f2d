"""What a monitor asks."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from builds.access.roles import is_lead
from builds.upkeep.health import checks


@never_cache
@require_safe
def healthz(_request: HttpRequest) -> HttpResponse:
    """Say that the process answers; nothing else is asked."""
    return HttpResponse("well\n", content_type="text/plain; charset=utf-8")


class HealthMiddleware:
    """Answer /healthz before anything that asks who is there.

    Whoever that is lies in the database, which may be away.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer here, or go on."""
        if request.path == "/healthz":
            return healthz(request)
        return self.get_response(request)


@never_cache
@require_safe
def readyz(request: HttpRequest) -> HttpResponse:
    """Say whether people can work here, and what is not as it should be."""
    found = checks()
    stopped = [one.name for one in found if one.stops and not one.ok]
    facts: dict[str, object] = {
        "ready": not stopped,
        "alarms": [one.name for one in found if not one.ok],
    }
    if not stopped and is_lead(request.user):  # versions are nobody else's business
        facts["says"] = {one.name: one.says for one in found}
    answer = JsonResponse(facts, status=503 if stopped else 200)
    if stopped:
        answer["Retry-After"] = "30"
    return answer
