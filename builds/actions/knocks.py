"""How often something may be tried by one visitor: counted in the database."""

from __future__ import annotations

from datetime import timedelta
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone

from builds.models import Knocks

KEPT = timedelta(days=1)


class Limit(NamedTuple):
    """How often something may be tried within a stretch of time."""

    name: str
    most: int
    within: timedelta


MISSES = Limit("miss", 20, timedelta(minutes=10))
LOOKS = Limit("look", 60, timedelta(minutes=1))
UPLOADS = Limit("upload", 20, timedelta(minutes=1))


def is_full(limit: Limit, whose: str) -> bool:
    """Say whether somebody has used up a limit, without counting."""
    now = timezone.now()
    counted = Knocks.objects.filter(since__gt=now - limit.within, since__lte=now)
    row = counted.filter(place=_place(limit, whose)).first()
    return row is not None and row.count >= limit.most


@transaction.atomic
def knock(limit: Limit, whose: str) -> int:
    """Count one try of somebody's; give how many there are in its stretch of time."""
    now = timezone.now()
    Knocks.objects.filter(since__lt=now - KEPT).delete()
    place = _place(limit, whose)
    row, _ = Knocks.objects.get_or_create(place=place, defaults={"since": now})
    row = Knocks.objects.select_for_update().get(pk=row.pk)
    if not now - limit.within < row.since <= now:  # over, or the clock was set back
        row.since, row.count = now, 0
    row.count += 1
    row.save(update_fields=["since", "count"])
    return row.count


def _place(limit: Limit, whose: str) -> str:
    return f"{limit.name}:{whose}"
