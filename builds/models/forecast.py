"""One run of the engine over the whole workshop."""

from __future__ import annotations

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.db.models import Q

from builds.models.run import Run


class ForecastState(models.TextChoices):
    """How far a run has got."""

    QUEUED = "queued", "Queued"
    RUNNING = "running", "Running"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"
    SUPERSEDED = "superseded", "Overtaken by a newer one"


class ForecastQuerySet(models.QuerySet["Forecast"]):
    """Which runs count."""

    def latest_done(self) -> Forecast | None:
        """Give the answer to the newest question, not the one that ended last."""
        return (
            self.filter(state=ForecastState.DONE).order_by("-asked_at", "-pk").first()
        )

    def waiting(self) -> ForecastQuerySet:
        """Give the runs that somebody still wants."""
        return self.filter(state__in=(ForecastState.QUEUED, ForecastState.RUNNING))


class Forecast(Run):
    """A question (the plan, by its hash) and the engine's answer.

    A queued row is written with the change that asks for it, so that nothing is
    lost when the queue is away.
    """

    input_hash = models.CharField(max_length=64, default="", blank=True)
    state = models.CharField(
        max_length=20, choices=ForecastState, default=ForecastState.QUEUED
    )
    answer = models.JSONField(default=dict, blank=True, encoder=DjangoJSONEncoder)
    created = models.DateTimeField(auto_now_add=True)

    objects = ForecastQuerySet.as_manager()

    class Meta:
        ordering = ("-asked_at", "-pk")
        constraints = (
            models.UniqueConstraint(
                fields=("input_hash",),
                condition=Q(state=ForecastState.DONE),
                name="one_answer_for_each_plan",
            ),
            models.CheckConstraint(
                condition=Q(state__in=ForecastState.values),
                name="forecast_state_is_known",
            ),
        )

    def __str__(self) -> str:
        return f"{self.state} {self.input_hash[:8]}"
