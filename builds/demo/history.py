"""Plausible dates for what a car has behind it, laid backwards from what followed."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from graphlib import TopologicalSorter
from typing import Any

from builds.demo.table import Row

SHUT = (
    (date(2025, 12, 24), date(2026, 1, 1)),
    (date(2026, 4, 3), date(2026, 4, 6)),
    (date(2026, 5, 4), date(2026, 5, 4)),
    (date(2026, 5, 25), date(2026, 5, 25)),
    (date(2026, 8, 31), date(2026, 8, 31)),
    (date(2026, 12, 24), date(2027, 1, 1)),
)
FRIDAY, SATURDAY = 4, 5
HOURS_A_DAY = 6.5
SHARED_WITH_OTHER_CARS = 2.4  # a row takes longer on the calendar than by the clock
BEGINS, ENDS, ENDS_FRIDAY = time(8, 15), time(16, 15), time(12, 45)


@dataclass(frozen=True)
class Done:
    """First and last day of finished work."""

    first: date
    last: date

    def as_keys(self, row: Row) -> dict[str, Any]:
        """Return the plan-file keys of a finished job."""
        ends = ENDS_FRIDAY if self.last.weekday() == FRIDAY else ENDS
        keys: dict[str, Any] = {
            "state": "done",
            "started": _moment(self.first, BEGINS),
            "finished": _moment(self.last, ends),
        }
        return keys | ({"sent": str(self.first)} if row.kind == "outside" else {})


def _moment(day: date, at: time) -> str:
    return datetime.combine(day, at).isoformat(timespec="minutes")


def is_working(day: date) -> bool:
    """Return whether the shop was open (weekends and holidays out)."""
    shut = any(first <= day <= last for first, last in SHUT)
    return day.weekday() < SATURDAY and not shut


def back(day: date, working_days: int) -> date:
    """Return the working day so many before `day` (0: it, or the last before it)."""
    while not is_working(day):
        day -= timedelta(days=1)
    for _ in range(working_days):
        day = back(day - timedelta(days=1), 0)
    return day


def _days_taken(row: Row) -> int:
    if row.in_house:
        return math.ceil(row.likely / HOURS_A_DAY * SHARED_WITH_OTHER_CARS)
    if row.kind == "decision":
        return math.ceil(row.likely * 5 / 7)
    return math.ceil(row.likely / 24 * 5 / 7 if row.kind == "stand" else row.likely)


def happened(
    rows: Sequence[Row],
    done: Collection[str],
    begun: Mapping[str, date],
    pins: Mapping[str, date],
    last: date,
) -> dict[str, Done]:
    """Return first and last day of each done row.

    Each ends before the first of its followers began (`begun`), by its own pin, or
    by `last` where nothing has followed it yet.
    """
    by_code = {row.code: row for row in rows}
    followers = {
        code: [row.code for row in rows if code in row.after] for code in by_code
    }
    found: dict[str, Done] = {}
    for code in TopologicalSorter(followers).static_order():  # followers come first
        if code in done:
            ends = [pins.get(code, last)]
            for follower in followers[code]:
                starts = found[follower].first if follower in found else None
                limit = starts or begun.get(follower)
                ends += [limit - timedelta(days=1)] if limit else []
            finish = back(min(ends), 0)
            found[code] = Done(back(finish, _days_taken(by_code[code]) - 1), finish)
    return found
