"""Hours gathered week by week: asked, given, their own, and by job."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TypeVar

WEEK = timedelta(days=7)
LITTLE = 0.5  # hours nobody would notice in a week


@dataclass(frozen=True, slots=True)
class Stretch:
    """Working time of one job inside one day, and the hours it counts for."""

    job: str
    start: datetime
    finish: datetime
    hours: float


@dataclass(frozen=True, slots=True)
class Own:
    """Hours somebody is here, or a place is open."""

    start: datetime
    finish: datetime
    hours: float


Part = TypeVar("Part", Own, Stretch)


@dataclass(frozen=True, slots=True)
class Hours:
    """Somebody's own hours, those the plan gives them, and those asked at the earliest.

    `asked` are the same jobs as `given`, each as early as its own chain allows, as if
    hands were never short.
    """

    own: tuple[Own, ...] = ()
    given: tuple[Stretch, ...] = ()
    asked: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True)
class Load:
    """The hours of everybody and every place, by key."""

    people: dict[str, Hours]
    places: dict[str, Hours]


@dataclass(frozen=True, slots=True)
class WeekHours:
    """One week of one person or place."""

    monday: date
    has: float
    given: float
    asked: float
    waiting: float  # asked by the end of the week and not given yet
    given_jobs: tuple[tuple[str, float], ...]
    asked_jobs: tuple[tuple[str, float], ...]

    @property
    def number(self) -> int:
        """Give the number of the week by ISO 8601."""
        return self.monday.isocalendar().week

    @property
    def over(self) -> float:
        """Give the hours asked beyond those there are."""
        return _noticed(self.asked - self.has)

    @property
    def free(self) -> float:
        """Give the hours the plan leaves."""
        return _noticed(self.has - self.given)


def monday_of(day: date) -> date:
    """Give the Monday of the week a day lies in."""
    return day - timedelta(days=day.weekday())


def weeks_of(hours: Hours, first: date, count: int) -> tuple[WeekHours, ...]:
    """Gather `count` weeks, the first of them beginning on the Monday `first`."""
    own = _by_week(hours.own)
    given, asked = _by_week(hours.given), _by_week(hours.asked)
    mondays = [first + WEEK * number for number in range(count)]
    return tuple(
        WeekHours(
            monday=monday,
            has=_sum(own[monday]),
            given=_sum(given[monday]),
            asked=_sum(asked[monday]),
            waiting=_noticed(_until(hours.asked, monday) - _until(hours.given, monday)),
            given_jobs=by_job(given[monday]),
            asked_jobs=by_job(asked[monday]),
        )
        for monday in mondays
    )


def by_job(stretches: Iterable[Stretch]) -> tuple[tuple[str, float], ...]:
    """Give each job with its hours, in the order they come up."""
    found: dict[str, float] = {}
    for one in stretches:
        found[one.job] = found.get(one.job, 0.0) + one.hours
    return tuple(found.items())


def _by_week(parts: Iterable[Part]) -> defaultdict[date, list[Part]]:
    found: defaultdict[date, list[Part]] = defaultdict(list)
    for one in parts:
        found[monday_of(one.start.date())].append(one)
    return found


def _sum(parts: Iterable[Own | Stretch]) -> float:
    return sum(one.hours for one in parts)


def _until(stretches: Iterable[Stretch], monday: date) -> float:
    """Give the hours up to the end of a week."""
    return sum(one.hours for one in stretches if one.start.date() < monday + WEEK)


def _noticed(hours: float) -> float:
    return hours if hours >= LITTLE else 0.0
