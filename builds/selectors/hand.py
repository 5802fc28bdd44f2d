"""One person’s plan as a diary: day by day, which job from when to when."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby

from django.urls import reverse

from builds.charts import wording
from builds.models import Job, Person, WorkCalendar
from builds.selectors.morning_lines import car_of, title_of
from builds.selectors.weeks import WEEK, Hours, Stretch, WeekHours, weeks_of

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
GAP = timedelta(minutes=30)  # a shorter one is not worth a line


@dataclass(frozen=True, slots=True)
class Block:
    """Time at one job, or free (no title)."""

    start: datetime
    finish: datetime
    title: str = ""
    url: str = ""
    car: str = ""
    until: date | None = None  # the later day on which the job is to end

    @property
    def hours(self) -> str:
        """Say from when to when."""
        return f"{wording.clock(self.start)} to {wording.clock(self.finish)}"


@dataclass(frozen=True, slots=True)
class Day:
    """One day; `why` where nobody works although it is a usual day."""

    date: date
    why: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class DiaryWeek:
    """One week of the diary."""

    hours: WeekHours
    words: str
    days: tuple[Day, ...]


@dataclass(frozen=True, slots=True)
class HandPage:
    """One person's weeks."""

    person: Person
    first: date
    weeks: tuple[DiaryWeek, ...]
    earlier: str
    later: str


def hand_page(
    person: Person,
    hours: Hours,
    *,
    today: date,
    first: date,
    weeks: int,
    job_page: str,
) -> HandPage:
    """Give somebody's diary; `job_page` names the page a job leads to."""
    jobs = {
        job.key: job
        for job in Job.objects.filter(
            key__in={one.job for one in hours.given}
        ).select_related("build")
    }
    diary = Diary(person, hours, jobs, job_page)
    gathered = weeks_of(hours, first, weeks)
    return HandPage(
        person=person,
        first=first,
        weeks=tuple(
            DiaryWeek(
                week,
                wording.day_range(week.monday, week.monday + timedelta(days=4)),
                tuple(diary.days(week.monday, today)),
            )
            for week in gathered
        ),
        earlier=_turn(person, first - WEEK * weeks, weeks) if first > today else "",
        later=_turn(person, first + WEEK * weeks, weeks),
    )


def _turn(person: Person, first: date, weeks: int) -> str:
    where = reverse("hand", args=[person.key])
    return f"{where}?first={first.isoformat()}&weeks={weeks}"


class Diary:
    """Somebody's days, read once."""

    def __init__(
        self, person: Person, hours: Hours, jobs: dict[str, Job], job_page: str
    ) -> None:
        self._hours, self._jobs, self._job_page = hours, jobs, job_page
        self._away = tuple(person.away.all())
        self._usual = _usual_days(person)
        self._ends = {one.job: one.finish.date() for one in hours.given}

    def days(self, monday: date, today: date) -> Iterator[Day]:
        """Give the days of a week from today on, without those nobody works anyway."""
        for number, name in enumerate(DAYS):
            day = monday + timedelta(days=number)
            blocks = tuple(self._blocks(day))
            if day >= today and (blocks or name in self._usual):
                yield Day(day, "" if blocks else self._why(day), blocks)

    def _why(self, day: date) -> str:
        away = any(one.first <= day <= one.last for one in self._away)
        return "Away" if away else "Closed"

    def _blocks(self, day: date) -> Iterator[Block]:
        """Give the day's jobs, and what is left free between them."""
        given = [one for one in self._hours.given if one.start.date() == day]
        own = [
            (one.start, one.finish)
            for one in self._hours.own
            if one.start.date() == day
        ]
        work = [self._job(run) for run in _runs(given)]
        free = [Block(*gap) for gap in _gaps(own, given) if gap[1] - gap[0] >= GAP]
        yield from _joined(sorted([*work, *free], key=lambda one: one.start))

    def _job(self, run: Sequence[Stretch]) -> Block:
        key, finish = run[0].job, run[-1].finish
        job = self._jobs.get(key)
        ends = self._ends[key]
        return Block(
            run[0].start,
            finish,
            title_of(job) if job else key,
            reverse(self._job_page, args=[key]) if job else "",
            car_of(job) if job else "",
            ends if ends > run[0].start.date() else None,
        )


def _usual_days(person: Person) -> Collection[str]:
    calendar = person.calendar or WorkCalendar.objects.first()
    if calendar is None or calendar.elapsed:
        return DAYS
    return tuple(day for day, hours in calendar.week.items() if hours)


def _runs(given: Sequence[Stretch]) -> list[list[Stretch]]:
    """Put the stretches of one job that follow each other together."""
    runs: list[list[Stretch]] = []
    for one in given:
        if runs and runs[-1][-1].job == one.job:
            runs[-1].append(one)
        else:
            runs.append([one])
    return runs


def _gaps(
    own: Sequence[tuple[datetime, datetime]], given: Sequence[Stretch]
) -> Iterator[tuple[datetime, datetime]]:
    """Give their own hours without those that are given."""
    for start, finish in own:
        at = start
        for one in given:
            if one.finish > at and one.start < finish:
                if one.start > at:
                    yield at, one.start
                at = max(at, one.finish)
        if at < finish:
            yield at, finish


def _joined(blocks: Sequence[Block]) -> Iterator[Block]:
    """Let free time with nothing but a break in it be one stretch."""
    for free, run in groupby(blocks, key=lambda one: not one.title):
        held = list(run)
        if free:
            yield Block(held[0].start, held[-1].finish)
        else:
            yield from held
