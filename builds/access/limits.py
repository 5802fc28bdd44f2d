"""How often somebody may try: counted in the cache that all workers share."""

from __future__ import annotations

import time

from django.conf import settings
from django.core.cache import cache
from django.http import HttpRequest

OPENINGS = ("opened", 60, 60)  # name, times, seconds
MISSES = ("missed", 20, 600)

Limit = tuple[str, int, int]


def is_over(limit: Limit, request: HttpRequest) -> bool:
    """Say whether a visitor has used up a limit, without counting this time."""
    name, times, seconds = limit
    return int(cache.get(_key(name, seconds, request), 0)) >= times


def count(limit: Limit, request: HttpRequest) -> None:
    """Count this time against a limit."""
    name, _, seconds = limit
    key = _key(name, seconds, request)
    if not cache.add(key, 1, timeout=seconds):
        try:
            cache.incr(key)
        except ValueError:
            cache.set(key, 1, timeout=seconds)


def address_of(request: HttpRequest) -> str:
    """Give where a visitor comes from; one proxy of our own is believed."""
    passed = str(request.META.get("HTTP_X_FORWARDED_FOR", ""))
    if getattr(settings, "BEHIND_PROXY", False) and passed:
        return passed.rsplit(",", 1)[-1].strip()
    return str(request.META.get("REMOTE_ADDR", ""))


def _key(name: str, seconds: int, request: HttpRequest) -> str:
    window = int(time.time() // seconds)
    where = "".join(c if c.isalnum() or c in ".:" else "_" for c in address_of(request))
    return f"limit:{name}:{where[:64]}:{window}"
