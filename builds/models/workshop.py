"""The firm: one row."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models
from django.utils import timezone

from builds.models.wall_clock import WallClockField


def default_levels() -> list[str]:
    """Give the readiness ladder a new workshop starts with, lowest first."""
    return ["on the stand", "running", "road-ready", "complete"]


class Reading(models.TextChoices):
    """What the low and the high of an estimate mean."""

    ONE_IN_TEN = "one-in-ten", "one time in ten it is quicker, one in ten longer"
    ENDS = "ends", "the quickest and the longest it can be"


class Workshop(models.Model):
    """The workshop and the settings of its plan."""

    name = models.TextField(default="The workshop", blank=True)
    town = models.TextField(default="", blank=True)
    phone = models.TextField(default="", blank=True)
    address = models.TextField(default="", blank=True)
    timezone = models.CharField(max_length=100, default="UTC")
    reading = models.CharField(
        max_length=20, choices=Reading, default=Reading.ONE_IN_TEN
    )
    seed = models.BigIntegerField(default=1)
    samples = models.PositiveIntegerField(default=10_000)
    factors: models.JSONField[Any, Any] = models.JSONField(null=True, blank=True)
    levels = models.JSONField(default=default_levels)
    followed: models.JSONField[Any, Any] = models.JSONField(
        null=True,
        blank=True,
        help_text="The plan people were told to follow, by job; empty: the last one.",
    )
    keep_order = models.BooleanField(
        default=False, help_text="The plan keeps to the order of the one followed."
    )
    now = WallClockField(
        null=True, blank=True, help_text="A clock that stands still; empty: it runs."
    )

    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = (
            models.CheckConstraint(condition=models.Q(pk=1), name="one_workshop"),
            models.CheckConstraint(
                condition=models.Q(reading__in=Reading.values),
                name="reading_is_known",
            ),
        )

    def __str__(self) -> str:
        return self.name

    @classmethod
    def current(cls) -> Workshop:
        """Give the workshop, or a new one not yet saved.

        The plan that is followed may be as long as the list of all jobs; it is read
        only when somebody asks for it.
        """
        return cls.objects.defer("followed").filter(pk=1).first() or cls(pk=1)

    def clock(self) -> datetime:
        """Give the time on the workshop's wall, rounded up to the next quarter."""
        if self.now is not None:
            pinned: datetime = self.now
            return pinned
        wall = timezone.localtime(timezone=ZoneInfo(self.timezone))
        wall = wall.replace(tzinfo=None)
        late = timedelta(
            minutes=wall.minute % 15,
            seconds=wall.second,
            microseconds=wall.microsecond,
        )
        return wall if not late else wall - late + timedelta(minutes=15)
