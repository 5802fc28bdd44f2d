"""Rows into the engine's plan: 18 queries, however many jobs there are."""

from __future__ import annotations

from datetime import date, datetime
from typing import cast

from django.db.models import Prefetch

from builds.models import (
    Build,
    Person,
    Place,
    Show,
    ShowEntry,
    Vendor,
    WorkCalendar,
    Workshop,
)
from builds.planning import problem_jobs
from builds.planning.calendar_text import read_hours, read_span, read_week
from scheduling import plan as records


def build_plan(*, at: datetime | None = None) -> records.Plan:
    """Give the whole workshop as the engine reads it, at `at` or by its own clock."""
    shop = Workshop.current()
    calendars = list(WorkCalendar.objects.all())
    keys = {row.pk: row.key for row in calendars}
    return records.Plan(
        now=at or shop.clock(),
        timezone=shop.timezone,
        reading=cast(records.Reading, shop.reading),
        seed=shop.seed,
        samples=shop.samples,
        factors=None if shop.factors is None else records.Factors(**shop.factors),
        calendars=tuple(_calendar(row) for row in calendars if not row.implied),
        people=_people(keys),
        places=_places(keys),
        vendors=_vendors(keys),
        levels=tuple(shop.levels),
        builds=tuple(_build(row) for row in Build.objects.all()),
        shows=_shows(),
        jobs=problem_jobs.jobs(),
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


def _people(calendars: dict[int, str]) -> tuple[records.Person, ...]:
    rows = Person.objects.prefetch_related("trades", "away")
    return tuple(_person(row, _key(calendars, row.calendar_id)) for row in rows)


def _person(row: Person, calendar: str | None) -> records.Person:
    trades = list(row.trades.all())
    return records.Person(
        id=row.key,
        name=row.name,
        calendar=calendar,
        trades={one.trade: one.level for one in trades if one.level is not None},
        pace={one.trade: one.pace for one in trades if one.pace is not None},
        away=tuple(records.Span(one.first, one.last) for one in row.away.all()),
        note=row.note,
        left_out=row.left_out,
    )


def _places(calendars: dict[int, str]) -> tuple[records.Place, ...]:
    return tuple(
        records.Place(
            id=row.key,
            name=row.name,
            capacity=row.capacity,
            calendar=_key(calendars, row.calendar_id),
        )
        for row in Place.objects.all()
    )


def _vendors(calendars: dict[int, str]) -> tuple[records.Vendor, ...]:
    rows = Vendor.objects.prefetch_related("closed", "history")
    return tuple(_vendor(row, _key(calendars, row.calendar_id)) for row in rows)


def _vendor(row: Vendor, calendar: str | None) -> records.Vendor:
    slots = None
    if row.slot_every is not None and row.slot_from is not None:
        slots = records.SlotRule(row.slot_every, row.slot_from)
    return records.Vendor(
        id=row.key,
        name=row.name,
        calendar=calendar,
        closed=tuple(records.Span(one.first, one.last) for one in row.closed.all()),
        minimum_charge=row.minimum_charge,
        slots=slots,
        history=tuple(
            records.PastReturn(one.quoted_days, one.actual_days)
            for one in row.history.all()
        ),
        reject_chance=row.reject_chance,
        does=row.does,
        phone=row.phone,
        note=row.note,
        left_out=row.left_out,
    )


def _build(row: Build) -> records.Build:
    return records.Build(
        id=row.key,
        name=row.name,
        rank=row.rank,
        customer=row.customer,
        wanted=row.wanted,
        note=row.note,
        left_out=row.left_out,
    )


def _shows() -> tuple[records.Show, ...]:
    entries = ShowEntry.objects.select_related("build")
    return tuple(
        records.Show(
            id=row.key,
            name=row.name,
            move_in=row.move_in,
            entries=tuple(
                records.Entry(one.build.key, one.level) for one in row.entries.all()
            ),
            left_out=row.left_out,
        )
        for row in Show.objects.prefetch_related(Prefetch("entries", entries))
    )


def _key(keys: dict[int, str], pk: int | None) -> str | None:
    return None if pk is None else keys[pk]
