"""What one answer of the engine says of one job, a row of its own."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection, models

Facts = Mapping[str, Any]
INSERT = """
    INSERT INTO builds_answeredjob
        (forecast_id, "key", "condition", who, planned_start, facts)
    VALUES (%s, %s, %s, %s, %s, %s)
"""


class AnsweredJobs(models.QuerySet["AnsweredJob"]):
    """Which rows count."""

    def for_person(self, key: str) -> AnsweredJobs:
        """Give the jobs that are planned for somebody, by their key."""
        return self.filter(who__contains=f" {key} ")

    def keep(self, forecast: int, answers: Mapping[str, Facts]) -> None:
        """Write a row for each job of an answer, by its key.

        Hundreds of rows after every edit: made as instances they take three times as
        long.
        """
        rows = [_row(forecast, key, facts) for key, facts in answers.items()]
        with connection.cursor() as cursor:
            cursor.executemany(INSERT, rows)


def _row(forecast: int, key: str, facts: Facts) -> tuple[Any, ...]:
    """Give a row's values in the order of INSERT."""
    who = facts.get("who") or ()
    return (
        forecast,
        key,
        facts.get("condition") or "",
        f" {' '.join(who)} " if who else "",
        facts.get("planned_start") or "",
        json.dumps(facts, allow_nan=False),
    )


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
