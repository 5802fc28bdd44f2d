"""The weeks of one person or place: tallies with words, and lines of a table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.urls import reverse

from builds.charts import wording
from builds.charts.tally import Frame, Tally, frame, tally
from builds.models import DaysAway, Job
from builds.selectors.morning_lines import car_of, title_of
from builds.selectors.weeks import WeekHours

Jobs = Mapping[str, Job]
Spans = Sequence[DaysAway]


@dataclass(frozen=True, slots=True)
class Part:
    """A job's hours in a week."""

    title: str
    url: str
    hours: float


@dataclass(frozen=True, slots=True)
class OfCar:
    """What one car asks for in a week."""

    car: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Week:
    """One week of one row."""

    hours: WeekHours
    days: str
    tally: Tally
    over: str
    rest: str
    away: tuple[str, ...]
    given: tuple[OfCar, ...]
    also: tuple[OfCar, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A person or a place, week by week."""

    name: str
    what: str
    key: str
    slug: str
    opened: bool
    weeks: tuple[Week, ...]

    @property
    def url(self) -> str:
        """Give the page of their own weeks; a place has none."""
        return reverse("hand", args=[self.key]) if self.key else ""

    @property
    def over_weeks(self) -> int:
        """Count the weeks in which more is asked than there is."""
        return sum(1 for week in self.weeks if week.hours.over)

    @property
    def free(self) -> float:
        """Give the hours the plan leaves in all the weeks."""
        return sum(week.hours.free for week in self.weeks)


def row_of(
    name: str,
    weeks: Sequence[WeekHours],
    jobs: Jobs,
    *,
    what: str,
    stroke: float,
    slug: str,
    opened: bool,
    key: str = "",
    away: Spans = (),
) -> Row:
    """Give the row of a person (`key`) or a place; `opened` with its jobs."""
    held = frame(stroke, [one.has for one in weeks], [one.over for one in weeks])
    lead_to = "job_who" if key else "job"
    jobs = jobs if opened else {}
    found = tuple(_week(one, jobs, held, away, lead_to) for one in weeks)
    return Row(name, what, key, slug, opened, found)


def whole(hours: float) -> str:
    """Say hours without their minutes: `12 h`."""
    return f"{wording.whole_hours(hours)} h"


def _week(week: WeekHours, jobs: Jobs, held: Frame, away: Spans, lead_to: str) -> Week:
    spans = _away(week.monday, away)
    given = {key for key, _ in week.given_jobs}
    asked = [(key, hours) for key, hours in week.asked_jobs if key not in given]
    return Week(
        hours=week,
        days=f"{week.monday.day} {week.monday:%b}",
        tally=tally(week.has, week.given, week.over, held),
        over=f"{whole(week.over)} over" if week.over else "",
        rest=_rest(week, spans),
        away=spans,
        given=by_car(week.given_jobs, jobs, lead_to),
        also=by_car(asked, jobs, lead_to) if week.over else (),
    )


def _rest(week: WeekHours, away: Sequence[str]) -> str:
    """Say what the plan leaves of the week."""
    if not week.has:
        return "away" if away else "closed"
    return f"{whole(week.free)} free" if week.free else "full"


def _away(monday: date, spans: Spans) -> tuple[str, ...]:
    last = monday + timedelta(days=6)
    return tuple(
        f"away {wording.short_range(max(one.first, monday), min(one.last, last))}"
        for one in spans
        if one.first <= last and one.last >= monday
    )


def by_car(
    hours: Sequence[tuple[str, float]], jobs: Jobs, lead_to: str
) -> tuple[OfCar, ...]:
    """Gather jobs by car, each with its hours; `lead_to` names the page behind it."""
    cars: dict[str, list[Part]] = {}
    for key, amount in hours:
        if key in jobs:
            part = Part(title_of(jobs[key]), reverse(lead_to, args=[key]), amount)
            cars.setdefault(car_of(jobs[key]), []).append(part)
    return tuple(OfCar(car, tuple(parts)) for car, parts in cars.items())
