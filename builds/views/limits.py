"""How much may be sent at once and how often, and that there must be room for it."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from builds.access.visitors import address_of
from builds.actions.knocks import UPLOADS, knock
from builds.upkeep.health import room_left
from builds.views.error_words import FULL
from builds.views.errors import error_page


class LimitsMiddleware:
    """Refuse by what the request says of itself, before anything of it is read."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Go on, or say why not."""
        if _length(request) > settings.BODY_LARGEST_MB * 1_000_000:
            return error_page(413)
        sends_file = request.content_type == "multipart/form-data"
        if sends_file and room_left() < settings.DISK_FLOOR_MB:
            return error_page(503, FULL)
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_args: object) -> HttpResponse | None:
        """Count files, whatever form they came by: so many a minute from one person."""
        if request.method != "POST" or not request.FILES:
            return None
        user = request.user
        whose = f"user {user.pk}" if user.is_authenticated else address_of(request)
        too_often = knock(UPLOADS, whose) > UPLOADS.most
        return error_page(429) if too_often else None


def _length(request: HttpRequest) -> int:
    told = request.META.get("CONTENT_LENGTH") or "0"
    return int(told) if told.isdecimal() else 0
