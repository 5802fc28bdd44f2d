"""How often something may be tried from one place: counted in the database."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from builds.models import Knocks

KEPT = timedelta(days=1)


def is_full(place: str, *, most: int, within: timedelta) -> bool:
    """Say whether a place has used up what it may try, without counting."""
    since = timezone.now() - within
    row = Knocks.objects.filter(place=place, since__gt=since).first()
    return row is not None and row.count >= most


@transaction.atomic
def knock(place: str, *, within: timedelta) -> int:
    """Count one try from a place; give how many there are in its stretch of time."""
    now = timezone.now()
    Knocks.objects.filter(since__lt=now - KEPT).delete()
    row, _ = Knocks.objects.get_or_create(place=place, defaults={"since": now})
    row = Knocks.objects.select_for_update().get(pk=row.pk)
    if row.since <= now - within:
        row.since, row.count = now, 0
    row.count += 1
    row.save(update_fields=["since", "count"])
    return row.count
