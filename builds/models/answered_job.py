"""What one answer of the engine says of one job, a row of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models


class AnsweredJobs(models.QuerySet["AnsweredJob"]):
    """Which rows count."""

    def for_person(self, key: str) -> AnsweredJobs:
        """Give the jobs that are planned for somebody, by their key."""
        return self.filter(who__contains=f" {key} ")


class AnsweredJob(models.Model):
    """A job of an answer by its key, so that no page reads more of them than it shows.

    `facts` is all that is said of it; what lists are chosen and put in order by stands
    beside it. `who` has a space before and behind every person's key.
    """

    # The constraint's index begins with it. With one of its own as well, PostgreSQL
    # bore less than half the load after a new forecast.
    forecast = models.ForeignKey(
        "builds.Forecast", on_delete=models.CASCADE, related_name="jobs", db_index=False
    )
    key = models.CharField(max_length=100)
    condition = models.CharField(max_length=20, default="", blank=True)
    who = models.TextField(default="", blank=True)
    planned_start = models.CharField(max_length=20, default="", blank=True)
    facts = models.JSONField(default=dict, encoder=DjangoJSONEncoder)

    objects = AnsweredJobs.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("forecast", "key"), name="an_answer_has_a_job_once"
            ),
        )

    def __str__(self) -> str:
        return self.key

    @classmethod
    def of(cls, forecast: int, key: str, facts: Mapping[str, Any]) -> AnsweredJob:
        """Give the row, not yet saved."""
        who = facts.get("who") or ()
        return cls(
            forecast_id=forecast,
            key=key,
            condition=facts.get("condition") or "",
            who=f" {' '.join(who)} " if who else "",
            planned_start=facts.get("planned_start") or "",
            facts=facts,
        )
