"""Rows into the engine's plan: 20 queries, however many jobs there are."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime
from typing import cast

from builds.models import Build, Show, ShowEntry, WorkCalendar, Workshop
from builds.planning import problem_jobs, problem_people
from builds.planning.calendar_text import read_hours, read_span, read_week
from builds.planning.rows import by_owner
from scheduling import plan as records

OF_BUILDS = ("key", "name", "rank", "customer", "wanted", "note", "left_out")


def build_plan(
    *,
    at: datetime | None = None,
    trails: bool = True,
    only: Collection[int] | None = None,
) -> records.Plan:
    """Give the whole workshop as the engine reads it, at `at` or by its own clock.

    Where each piece has been grows for years and changes no date: whoever only asks
    for dates leaves the trails out. With `only`, the plan has of all jobs those alone;
    that is enough to count working time, not to check or to answer it.
    """
    shop = Workshop.current()
    return records.Plan(
        now=at or shop.clock(),
        timezone=shop.timezone,
        reading=cast(records.Reading, shop.reading),
        seed=shop.seed,
        samples=shop.samples,
        factors=None if shop.factors is None else records.Factors(**shop.factors),
        calendars=tuple(
            _calendar(row) for row in WorkCalendar.objects.filter(implied=False)
        ),
        people=problem_people.people(),
        places=problem_people.places(),
        vendors=problem_people.vendors(),
        levels=tuple(shop.levels),
        builds=tuple(
            records.Build(*row) for row in Build.objects.values_list(*OF_BUILDS)
        ),
        shows=_shows(),
        jobs=problem_jobs.jobs(trails=trails, only=only),
        consignments=problem_jobs.consignments(),
    )


def _calendar(row: WorkCalendar) -> records.Calendar:
    return records.Calendar(
        id=row.key,
        week=read_week(row.week),
        holidays=row.holidays or None,
        closed=tuple(read_span(text) for text in row.closed),
        open={
            date.fromisoformat(day): read_hours(texts)
            for day, texts in row.open.items()
        },
        elapsed=row.elapsed,
    )


def _shows() -> tuple[records.Show, ...]:
    entries = by_owner(
        ShowEntry.objects.values_list("show_id", "build__key", "level"), records.Entry
    )
    rows = Show.objects.values_list("pk", "key", "name", "move_in", "left_out")
    return tuple(
        records.Show(key, name, move_in, tuple(entries[pk]), left_out)
        for pk, key, name, move_in, left_out in rows
    )
