"""People who work on the cars."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from builds.models.keyed import Keyed


class Person(Keyed):
    """Someone who works on cars."""

    name = models.TextField(blank=True)
    calendar = models.ForeignKey(
        "builds.WorkCalendar", on_delete=models.SET_NULL, null=True, blank=True
    )
    note = models.TextField(blank=True)
    left_out = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)


class PersonTrade(models.Model):
    """What someone may do (3 signs off, 2 alone, 1 with someone) and how fast."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="trades")
    trade = models.TextField()
    level = models.PositiveSmallIntegerField(null=True, blank=True)
    pace = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("person", "trade"), name="a_trade_once_for_each_person"
            ),
            models.CheckConstraint(
                condition=Q(level__isnull=True) | Q(level__range=(1, 3)),
                name="trade_level_is_one_to_three",
            ),
            models.CheckConstraint(
                condition=Q(pace__isnull=True) | Q(pace__gt=0), name="pace_is_positive"
            ),
        )

    def __str__(self) -> str:
        return f"{self.trade} {self.level or ''}".strip()


class DaysAway(models.Model):
    """Whole days someone is away, first and last included."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="away")
    first = models.DateField()
    last = models.DateField()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(first__lte=F("last")), name="days_away_end_after_they_begin"
            ),
        )

    def __str__(self) -> str:
        return f"{self.first} to {self.last}"
