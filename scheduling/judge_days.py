"""The judge's own calendars: one day at a time, as 96 quarter-hour bits.

Written apart from the planner's tables on purpose: slow, plain, and so easy to
believe. Nothing of the planner is used here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from functools import cache

import holidays

from scheduling.plan import Calendar, Hours, Plan, Span

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY = timedelta(days=1)
ALL_DAY = (1 << 96) - 1


@cache
def _holidays(code: str, year: int) -> frozenset[date]:
    country, _, subdivision = code.partition("-")
    return frozenset(
        holidays.country_holidays(country, subdiv=subdivision or None, years=year)
    )


def _bits(hours: Iterable[Hours]) -> int:
    found = 0
    for one in hours:
        for quarter in range(-(-one.opens // 15), one.closes // 15):
            found |= 1 << quarter
    return found


def within(spans: Iterable[Span], day: date) -> bool:
    """Return whether a day lies in any of the spans."""
    return any(span.first <= day <= span.last for span in spans)


def days_of(start: datetime, finish: datetime) -> Iterator[tuple[date, int]]:
    """Yield every day touched by start..finish with its bits inside it."""
    day = start.date()
    while datetime.combine(day, time()) < finish:
        midnight = datetime.combine(day, time())
        first = max(0, -(-(start - midnight) // timedelta(minutes=15)))
        last = min(96, (finish - midnight) // timedelta(minutes=15))
        yield day, (ALL_DAY >> (96 - last)) & ~((1 << first) - 1) if last > first else 0
        day += DAY


class Days:
    """When the people, places and vendors of a plan are there.

    Resources are named ``person:ana``, ``place:booth``, ``vendor:plater``,
    ``calendar:shop``.
    """

    def __init__(self, plan: Plan) -> None:
        self._calendars = {one.id: one for one in plan.calendars}
        first = plan.calendars[0].id if plan.calendars else "always"
        self._calendars.setdefault("always", Calendar("always", elapsed=True))
        self.shop = f"calendar:{first}"
        self._uses: dict[str, tuple[str, tuple[Span, ...]]] = {
            f"calendar:{one}": (one, ()) for one in self._calendars
        }
        for person in plan.people:
            self._uses[f"person:{person.id}"] = (person.calendar or first, person.away)
        for vendor in plan.vendors:
            self._uses[f"vendor:{vendor.id}"] = (
                vendor.calendar or first,
                vendor.closed,
            )
        for place in plan.places:
            self._uses[f"place:{place.id}"] = (place.calendar or "always", ())
        self._kept: dict[tuple[str, date], int] = {}

    def _hours(self, calendar: Calendar, day: date) -> int:
        """Return the open bits of a calendar on one day."""
        if calendar.elapsed:
            return 0 if within(calendar.closed, day) else ALL_DAY
        if day in calendar.open:
            return _bits(calendar.open[day])
        if within(calendar.closed, day):
            return 0
        if calendar.holidays and day in _holidays(calendar.holidays, day.year):
            return 0
        return _bits(calendar.week.get(WEEKDAYS[day.weekday()], ()))

    def bits(self, resource: str, day: date) -> int:
        """Return the open bits of one resource on one day."""
        key = (resource, day)
        if key not in self._kept:
            calendar, away = self._uses[resource]
            gone = within(away, day)
            self._kept[key] = 0 if gone else self._hours(self._calendars[calendar], day)
        return self._kept[key]

    def together(self, resources: Iterable[str], day: date) -> int:
        """Return the bits of a day at which all of the resources are there."""
        found = ALL_DAY
        for resource in resources:
            found &= self.bits(resource, day)
        return found

    def lost(self, resource: str, day: date) -> bool:
        """Return whether a day its week would work is closed or away."""
        calendar = self._calendars[self._uses[resource][0]]
        if self.bits(resource, day) or (
            day in calendar.open and not within(self._uses[resource][1], day)
        ):
            return False
        week = calendar.week.get(WEEKDAYS[day.weekday()], ())
        return calendar.elapsed or bool(
            _bits(week) or _bits(calendar.open.get(day, ()))
        )

    def hours(self, who: Iterable[str], start: datetime, finish: datetime) -> float:
        """Return the hours between two moments at which all of `who` are there."""
        names = tuple(who)
        found = days_of(start, finish)
        return sum((self.together(names, day) & b).bit_count() for day, b in found) / 4

    def days(self, who: str, start: datetime, finish: datetime) -> float:
        """Return working days between two moments, each shared by its own hours."""
        total = 0.0
        for day, bits in days_of(start, finish):
            whole = self.bits(who, day)
            total += (whole & bits).bit_count() / whole.bit_count() if whole else 0.0
        return total

    def slot_days(
        self, vendor: str, first: date, every: int, last: date
    ) -> frozenset[date]:
        """Return every n-th working day of a vendor from `first` to `last`."""
        span = range((last - first).days + 1)
        working = [
            first + n * DAY
            for n in span
            if self.bits(f"vendor:{vendor}", first + n * DAY)
        ]
        return frozenset(working[::every])
