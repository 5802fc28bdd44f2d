"""One run of the engine over the whole workshop."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from secrets import token_hex
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models, transaction
from django.db.models import Q

from builds.models.answered_job import AnsweredJob
from builds.models.run import Run


class ForecastState(models.TextChoices):
    """How far a run has got."""

    QUEUED = "queued", "Queued"
    RUNNING = "running", "Running"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"
    SUPERSEDED = "superseded", "Overtaken by a newer one"


AWAITED = (ForecastState.QUEUED, ForecastState.RUNNING)


class ForecastQuerySet(models.QuerySet["Forecast"]):
    """Which runs count."""

    def latest_done(self) -> Forecast | None:
        """Give the answer to the newest question, not the one that ended last."""
        return (
            self.filter(state=ForecastState.DONE).order_by("-asked_at", "-pk").first()
        )

    def waiting(self) -> ForecastQuerySet:
        """Give the runs that somebody still wants."""
        return self.filter(state__in=AWAITED)


class Forecast(Run):
    """A question (the plan, by its hash) and the engine's answer.

    A queued row is written with the change that asks for it, so that nothing is
    lost when the queue is away. Of the answer, `summary` holds what it says of the
    whole; each of its jobs is a row, as a page shows few of thousands.
    """

    input_hash = models.CharField(max_length=64, default="", blank=True)
    state = models.CharField(
        max_length=20, choices=ForecastState, default=ForecastState.QUEUED
    )
    summary = models.JSONField(default=dict, blank=True, encoder=DjangoJSONEncoder)
    # New with every writing of the answer: what was read under it need not be read
    # again. Empty where an older program wrote it.
    mark = models.CharField(max_length=32, default="", db_default="", blank=True)
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

    # The whole answer, where somebody put it here or asked for it.
    _answer: dict[str, Any] | None = None

    @property
    def answer(self) -> dict[str, Any]:
        """Give all that the engine answered: thousands of rows in a large workshop."""
        if self._answer is None:
            self._answer = dict(self.summary)
            jobs = dict(self.jobs.values_list("key", "facts")) if self.pk else {}
            if jobs or self.summary:
                self._answer["jobs"] = jobs
        return self._answer

    @answer.setter
    def answer(self, answer: Mapping[str, Any]) -> None:
        self._answer = dict(answer)
        self.summary = {key: said for key, said in answer.items() if key != "jobs"}

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write it, and with its summary the jobs of the answer that belongs to it."""
        fields: Iterable[str] | None = kwargs.get("update_fields")
        if fields is not None and "summary" not in fields:
            super().save(*args, **kwargs)
            return
        self.mark = token_hex(16)
        if fields is not None:
            kwargs["update_fields"] = {*fields, "mark"}
        if self._answer is None:
            super().save(*args, **kwargs)
            return
        with transaction.atomic():
            super().save(*args, **kwargs)
            self.jobs.all().delete()
            AnsweredJob.objects.keep(self.pk, self._answer.get("jobs", {}))

    def refresh_from_db(self, *args: Any, **kwargs: Any) -> None:
        """Read it anew."""
        self._answer = None
        super().refresh_from_db(*args, **kwargs)
