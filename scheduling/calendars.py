"""The clocks of one plan: every calendar, person, place and vendor as working time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from functools import cache

import holidays
import numpy as np
from numpy.typing import NDArray

from scheduling.plan import Calendar, Hours, Job, Plan, Span
from scheduling.timeline import PER_DAY, WEEKDAYS, Timeline
from scheduling.working_time import Clock

ALWAYS = Calendar(id="always", elapsed=True)
YEARS_AHEAD = 3
YEARS_AT_MOST = 15
MINUTES = 15

Mask = NDArray[np.bool_]


@cache
def public_holidays(code: str, year: int) -> frozenset[date]:
    """Return the public holidays of one year by the `holidays` library.

    Parameters
    ----------
    code : str
        Country, or country and subdivision: ``GB-ENG``, ``DE-BY``.
    year : int
    """
    country, _, subdivision = code.partition("-")
    found = holidays.country_holidays(country, subdiv=subdivision or None, years=year)
    return frozenset(day for day in found if day.year == year)


def timeline_for(plan: Plan, years: int = YEARS_AHEAD) -> Timeline:
    """Return the stretch of time that holds every date the plan names.

    Notes
    -----
    At least `years` from `now`; dates further than fifteen years on are left to the
    repeating week.
    """
    today = plan.now.date()
    past = [today, *(job.sent for job in plan.jobs if job.sent)]
    past += [
        promise.given for job in plan.jobs for promise in job.promises if promise.given
    ]
    past += [
        job.started.date() for job in plan.jobs if job.started and _counts(job, today)
    ]
    past += [vendor.slots.first for vendor in plan.vendors if vendor.slots]
    limit = _years_on(today, YEARS_AT_MOST)
    ahead = [_years_on(today, years)]
    ahead += [day for day in _named_days(plan) if day <= limit]
    floor = today - timedelta(days=366 * 5)
    return Timeline.around(max(min(past), floor), max(ahead))


def _years_on(day: date, years: int) -> date:
    return day + timedelta(days=366 * years)


def _named_days(plan: Plan) -> Iterator[date]:
    for calendar in plan.calendars:
        yield from (span.last for span in calendar.closed)
        yield from calendar.open
    for person in plan.people:
        yield from (span.last for span in person.away)
    for vendor in plan.vendors:
        yield from (span.last for span in vendor.closed)
    yield from (vendor.slots.first for vendor in plan.vendors if vendor.slots)
    yield from (show.move_in.date() for show in plan.shows)
    yield from (job.promised for job in plan.jobs if job.promised)
    yield from (job.not_before.date() for job in plan.jobs if job.not_before)


def _paint(target: Mask, day: int, hours: Iterable[Hours]) -> None:
    start = day * PER_DAY
    for one in hours:
        opens = -(-one.opens // MINUTES)
        target[start + opens : start + one.closes // MINUTES] = True


def _counts(job: Job, today: date) -> bool:
    """Return whether the hours since a job's start are still asked for."""
    year = timedelta(days=366)
    done = job.finished.date() if job.finished else today
    return job.state == "under way" or done > today - year


class Clocks:
    """Every clock of a plan, made once and kept.

    A key is a set of resource names such as ``person:ana`` or ``place:booth``; its
    clock is open when all of them are.
    """

    def __init__(self, plan: Plan, years: int = YEARS_AHEAD) -> None:
        self.timeline = timeline_for(plan, years)
        self._calendars = {one.id: one for one in plan.calendars} or {"always": ALWAYS}
        self.default = f"calendar:{next(iter(self._calendars))}"
        self._people = {person.id: person for person in plan.people}
        self._places = {place.id: place for place in plan.places}
        self._vendors = {vendor.id: vendor for vendor in plan.vendors}
        self._made: dict[frozenset[str], Clock] = {}
        self._roomy = {f"place:{one.id}" for one in plan.places if not one.calendar}
        self._unions: dict[frozenset[frozenset[str]], Clock] = {}
        self.elapsed = self._calendar(ALWAYS)

    def shop(self) -> Clock:
        """Return the clock of the first calendar: the workshop's own."""
        return self.of(frozenset({self.default}))

    def of(self, key: frozenset[str]) -> Clock:
        """Return the clock open when every resource named in `key` is."""
        key = key - self._roomy
        made = self._made.get(key)
        if made is None:
            made = self._made.setdefault(key, self._make(key))
        return made

    def any_of(self, keys: Iterable[frozenset[str]]) -> Clock:
        """Return the clock open when at least one of the keys' clocks is."""
        wanted = frozenset(keys)
        if len(wanted) == 1:
            return self.of(next(iter(wanted)))
        made = self._unions.get(wanted)
        if made is None:
            clocks = [self.of(key) for key in wanted]
            union = Clock(
                np.logical_or.reduce([one.working for one in clocks]),
                np.logical_or.reduce([one.week for one in clocks]),
                np.logical_and.reduce([one.blocked for one in clocks]),
            )
            made = self._unions.setdefault(wanted, union)
        return made

    def _make(self, key: frozenset[str]) -> Clock:
        if not key:
            return self.elapsed
        parts = [self._one(name) for name in sorted(key)]
        if len(parts) == 1:
            return parts[0]
        return Clock(
            np.logical_and.reduce([one.working for one in parts]),
            np.logical_and.reduce([one.week for one in parts]),
            np.logical_or.reduce([one.blocked for one in parts]),
        )

    def _one(self, name: str) -> Clock:
        single = frozenset({name})
        if single in self._made:
            return self._made[single]
        kind, _, who = name.partition(":")
        made = self._made[single] = self._build(kind, who)
        return made

    def _build(self, kind: str, who: str) -> Clock:
        if kind == "person":
            person = self._people[who]
            return self._closed_on(self._named(person.calendar), person.away)
        if kind == "vendor":
            vendor = self._vendors[who]
            return self._closed_on(self._named(vendor.calendar), vendor.closed)
        if kind == "place":
            calendar = self._places[who].calendar
            return self._named(calendar) if calendar else self.elapsed
        return self._calendar(self._calendars[who])

    def _named(self, calendar: str | None) -> Clock:
        return self._one(f"calendar:{calendar}" if calendar else self.default)

    def _closed_on(self, clock: Clock, spans: tuple[Span, ...]) -> Clock:
        if not spans:
            return clock
        working, blocked = clock.working.copy(), clock.blocked.copy()
        for span in spans:
            for day in self._days(span):
                quarters = slice(day * PER_DAY, (day + 1) * PER_DAY)
                blocked[day] |= bool(working[quarters].any())
                working[quarters] = False
        return Clock(working, clock.week, blocked)

    def _days(self, span: Span) -> range:
        first = (span.first - self.timeline.origin).days
        last = (span.last - self.timeline.origin).days
        return range(max(first, 0), min(last, self.timeline.days - 1) + 1)

    def _calendar(self, calendar: Calendar) -> Clock:
        days = self.timeline.days
        blocked = np.zeros(days, dtype=bool)
        week = np.zeros(7 * PER_DAY, dtype=bool)
        if calendar.elapsed:
            week[:] = True
            return self._closed_on(
                Clock(np.ones(days * PER_DAY, dtype=bool), week, blocked),
                calendar.closed,
            )
        for number, name in enumerate(WEEKDAYS):
            _paint(week, number, calendar.week.get(name, ()))
        closed = (*calendar.closed, *self._holidays(calendar))
        plain = Clock(np.tile(week, days // 7), week, blocked)
        clock = self._closed_on(plain, closed)
        return self._opened(clock, calendar)

    def _holidays(self, calendar: Calendar) -> list[Span]:
        if not calendar.holidays:
            return []
        first = self.timeline.origin
        last = first + timedelta(days=self.timeline.days)
        years = range(first.year, last.year + 1)
        found = [public_holidays(calendar.holidays, year) for year in years]
        return [Span(day, day) for one in found for day in sorted(one)]

    def _opened(self, clock: Clock, calendar: Calendar) -> Clock:
        for day, hours in calendar.open.items():
            number = (day - self.timeline.origin).days
            if 0 <= number < self.timeline.days:
                clock.working[number * PER_DAY : (number + 1) * PER_DAY] = False
                _paint(clock.working, number, hours)
                clock.blocked[number] = False
        return clock
