"""What an answer says, read once in each process: it stays as it is under its mark.

Pages ask for the same parts of the newest answer again and again. Whoever is given
something of it here must not change it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from django.db.models import Count, Sum

from builds.models import AnsweredJob, Forecast, Job

Facts = Mapping[str, Any]
KEPT = 2  # the newest answer, and the one before that it is compared with


class Outline(NamedTuple):
    """What an answer says of a job in short, for choosing among thousands."""

    condition: str = ""
    start: str = ""  # as planned
    who: str = ""


UNTOLD = Outline()


class KeptAnswer:
    """One answer; each part of it is read when somebody asks for it first."""

    def __init__(self, forecast: int) -> None:
        self._forecast = forecast
        self._facts: dict[str, Facts | None] = {}
        self._planned: dict[str, list[str]] = {}
        self._clear: tuple[dict[str, Any], list[str]] = {}, []
        self._rows = AnsweredJob.objects.filter(forecast=forecast).order_by()

    @cached_property
    def summary(self) -> Facts:
        """Give what it says of the whole; nothing if it is gone meanwhile."""
        found = Forecast.objects.filter(pk=self._forecast).order_by()
        return found.values_list("summary", flat=True).first() or {}

    def facts(self, keys: Collection[str]) -> dict[str, Facts]:
        """Give what it says of these jobs, by key; nothing of those unknown to it."""
        unread = [key for key in keys if key not in self._facts]
        if unread:
            rows = self._rows.filter(key__in=unread).values_list("key", "facts")
            self._facts.update(dict.fromkeys(unread) | dict(rows))
        told = ((key, self._facts.get(key)) for key in keys)
        return {key: facts for key, facts in told if facts is not None}

    @cached_property
    def outlines(self) -> Mapping[str, Outline]:
        """Give every job in short, by key."""
        rows = self._rows.values_list("key", "condition", "planned_start", "who")
        return {key: Outline(*told) for key, *told in rows}

    def planned_for(self, person: str) -> Collection[str]:
        """Give the keys of the jobs that are planned for somebody, by their key."""
        if person not in self._planned:
            named = f" {person} "  # as AnsweredJob.who has it
            told = self.outlines.items()
            self._planned[person] = [key for key, one in told if named in one.who]
        return self._planned[person]

    def waits(self, key: str) -> bool:
        """Say whether it tells a job to wait."""
        return self.outlines.get(key, UNTOLD).condition == "waiting"

    def not_waiting(self) -> Sequence[str]:
        """Give the jobs that it does not tell to wait, and those that came since.

        A new job has a higher number than all before, so it changes both figures.
        """
        jobs = Job.objects.order_by()
        there = jobs.aggregate(how_many=Count("pk"), numbers=Sum("pk"))
        seen, clear = self._clear
        if there != seen:
            keys = jobs.values_list("key", flat=True)
            clear = [key for key in keys if not self.waits(key)]
            self._clear = there, clear
        return clear


def kept(forecast: Forecast) -> KeptAnswer:
    """Give an answer as this process knows it."""
    if not forecast.mark:
        return KeptAnswer(forecast.pk)
    return _under(forecast.pk, forecast.mark)


@lru_cache(maxsize=KEPT)
def _under(forecast: int, _mark: str) -> KeptAnswer:
    return KeptAnswer(forecast)
