"""One long look for a better plan."""

from __future__ import annotations

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.db.models import Q

from builds.models.run import Run
from builds.models.wall_clock import WallClockField


class SearchState(models.TextChoices):
    """How far a long look has got, or how it ended."""

    QUEUED = "queued", "Waiting for its turn"
    RUNNING = "running", "Looking"
    DONE = "done", "Done"
    STOPPED = "stopped", "Stopped"
    OVERTAKEN = "overtaken", "Overtaken by a change"
    FAILED = "failed", "Failed"


OPEN = (SearchState.QUEUED, SearchState.RUNNING)


class SearchQuerySet(models.QuerySet["Search"]):
    """Which long looks count."""

    def open(self) -> SearchQuerySet:
        """Give those that are not at their end."""
        return self.filter(state__in=OPEN)

    def newest(self) -> Search | None:
        """Give the one asked for last."""
        return self.order_by("-pk").first()


class Search(Run):
    """A time budget spent on one plan, turn by turn.

    The best plan so far lies in the Forecast with the same hash, so that a lost
    worker loses one turn at most. `before` and `after` keep the odds and dates that
    are compared; `spent` the seconds looked for.
    """

    input_hash = models.CharField(max_length=64)
    at = WallClockField()
    minutes = models.PositiveSmallIntegerField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True
    )
    state = models.CharField(
        max_length=20, choices=SearchState, default=SearchState.QUEUED
    )
    turn = models.PositiveIntegerField(default=0)
    spent = models.FloatField(default=0)
    stop_asked = models.BooleanField(default=False)
    before = models.JSONField(default=dict, blank=True, encoder=DjangoJSONEncoder)
    after = models.JSONField(default=dict, blank=True, encoder=DjangoJSONEncoder)

    objects = SearchQuerySet.as_manager()

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("input_hash",),
                condition=Q(state__in=OPEN),
                name="one_open_search_for_each_plan",
            ),
            models.CheckConstraint(
                condition=Q(state__in=SearchState.values), name="search_state_is_known"
            ),
            models.CheckConstraint(
                condition=Q(minutes__gte=1), name="a_search_has_a_minute"
            ),
        )

    def __str__(self) -> str:
        return f"{self.minutes} min, {self.state}"

    @property
    def open(self) -> bool:
        """Say whether it is not at its end."""
        return self.state in OPEN
