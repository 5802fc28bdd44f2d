"""Where a visitor comes from."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest

LONGEST = 60  # no address is as long; what is sent along may be


def address_of(request: HttpRequest) -> str:
    """Give where a visitor comes from; one proxy of our own is believed."""
    passed = str(request.META.get("HTTP_X_FORWARDED_FOR", ""))
    if getattr(settings, "BEHIND_PROXY", False) and passed:
        return passed.rsplit(",", 1)[-1].strip()[:LONGEST]
    return str(request.META.get("REMOTE_ADDR", ""))
