"""What people should know of the machine: dates that are not coming, no fresh copy."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import NamedTuple

from django.conf import settings
from django.utils import timezone

from builds.models import LifeSign

PATIENCE = timedelta(minutes=1)
SILENT = timedelta(minutes=10)
COPY_DUE = timedelta(hours=26)  # every night, and two hours late


@dataclass(frozen=True, slots=True)
class Alarms:
    """Minutes that new dates are overdue and the worker silent, hours without a copy.

    None: all is well.
    """

    overdue: int | None = None
    silent: int | None = None
    copy: int | None = None


class Asked(NamedTuple):
    """Since when new dates are asked for: the oldest question, and the newest."""

    oldest: datetime
    newest: datetime


def alarms(queued: Asked | None, *, lead: bool) -> Alarms:
    """Give what is wrong; only the lead can do anything about the copies."""
    watched = settings.REDIS_URL or (lead and settings.BACKUP_FOLDER)
    ages = LifeSign.ages() if watched else {}
    return Alarms(
        overdue=_minutes(_unbegun(queued), PATIENCE),
        silent=_minutes(ages.get(LifeSign.WORKER), SILENT),
        copy=_hours(ages) if lead and settings.BACKUP_FOLDER else None,
    )


def _unbegun(queued: Asked | None) -> timedelta | None:
    """Give how long the oldest wish that nobody has taken up has been waiting."""
    return timezone.now() - queued.oldest if queued else None


def _minutes(age: timedelta | None, most: timedelta) -> int | None:
    if age is None or age <= most:
        return None
    return int(age.total_seconds() // 60)


def _hours(ages: dict[str, timedelta]) -> int | None:
    age = ages.get(LifeSign.COPY)
    if age is None:
        return 0
    return int(age.total_seconds() // 3600) if age > COPY_DUE else None
