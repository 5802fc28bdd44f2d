"""What a customer may know about their own car, and nothing else.

Every field is named here. No price, note, holder, vendor, person or other customer
is read; of jobs only the phase, and of the customer's own questions the title.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from builds.charts import wording
from builds.models import Build, Found, Job, Kind, State, User, Workshop
from builds.selectors.answers import Facts, moment, newest, planned_of

THIS_WEEK = timedelta(days=7)
SHOWN_STEPS = 4
READ = ("build", "key", "title", "kind", "phase", "found", "needed_by")


@dataclass(frozen=True, slots=True)
class OwnCar:
    """One of several cars of the same customer."""

    key: str
    name: str


@dataclass(frozen=True, slots=True)
class Word:
    """A page of the diary."""

    day: date
    words: str


@dataclass(frozen=True, slots=True)
class Level:
    """A level of readiness and when it is likely to be reached, in words."""

    name: str
    when: str


@dataclass(frozen=True, slots=True)
class OwnShow:
    """A show the car is entered for, and the chance of the wish."""

    name: str
    move_in: datetime
    wanted: str
    chance: float | None
    best: str


@dataclass(frozen=True, slots=True)
class Step:
    """A stretch of work still to come, and when it is likely to be behind us."""

    name: str
    when: str


@dataclass(frozen=True, slots=True)
class Need:
    """Something only the customer can say; `by` is the last day, if there is one."""

    question: str
    by: date | None
    overdue: bool
    later: bool


@dataclass(frozen=True, slots=True)
class OwnerPage:
    """Everything on the page."""

    car: str
    resting: bool
    this_week: tuple[Word, ...]
    earlier: tuple[Word, ...]
    needs: tuple[Need, ...]
    steps: tuple[Step, ...]
    shows: tuple[OwnShow, ...]
    levels: tuple[Level, ...]
    worked_out: datetime | None
    workshop: str
    address: str
    phone: str


def own_cars(user: User) -> list[OwnCar]:
    """Give the customer's cars, in the workshop's order."""
    return [OwnCar(one.key, str(one)) for one in user.cars.all()]


def owner_page(build: Build) -> OwnerPage:
    """Give what the owner of this car may read."""
    workshop = Workshop.current()
    forecast = newest()
    answer: Facts = forecast.summary if forecast else {}
    now = workshop.clock()
    since = now.date() - THIS_WEEK
    diary = [Word(one.day, one.words) for one in build.updates.all()]
    open_jobs = build.jobs.filter(state__in=(State.OPEN, State.UNDER_WAY))
    jobs = list(open_jobs.only(*READ))
    planned = planned_of(forecast, [job.key for job in jobs])
    return OwnerPage(
        car=str(build),
        resting=build.left_out,
        this_week=tuple(word for word in diary if word.day > since),
        earlier=tuple(word for word in diary if word.day <= since),
        needs=_needs(jobs, planned, now),
        steps=_steps(jobs, planned),
        shows=_shows(build, answer, workshop),
        levels=_levels(build, answer, workshop),
        worked_out=moment(answer.get("now")),
        workshop=workshop.name,
        address=", ".join(filter(None, (workshop.address, workshop.town))),
        phone=workshop.phone,
    )


def _needs(
    jobs: Iterable[Job], planned: Mapping[str, Facts], now: datetime
) -> tuple[Need, ...]:
    asked = [_need(job, planned.get(job.key, {}), now) for job in jobs if _is_open(job)]
    return tuple(sorted(asked, key=lambda one: (one.later, one.by or date.max)))


def _is_open(job: Job) -> bool:
    return job.kind == Kind.DECISION or job.found == Found.ASKED


def _need(job: Job, planned: Facts, now: datetime) -> Need:
    latest = moment(planned.get("late_finish"))
    by = job.needed_by
    if by is None and latest is not None and planned.get("in_hand_days") is not None:
        by = latest.date()
    later = job.kind == Kind.DECISION and planned.get("condition") == "waiting"
    return Need(
        question=str(job),
        by=by,
        overdue=by is not None and by <= now.date(),
        later=later,
    )


def _steps(jobs: Iterable[Job], planned: Mapping[str, Facts]) -> tuple[Step, ...]:
    """Give the next phases; a phase is over with the last of its jobs."""
    phases: dict[str, list[Facts]] = {}
    for job in jobs:
        facts = planned.get(job.key, {})
        if job.phase and facts.get("p50") and facts.get("p80"):
            phases.setdefault(job.phase, []).append(facts)
    ends = {
        name: max(some, key=lambda one: one["p80"]) for name, some in phases.items()
    }
    in_order = sorted(ends, key=lambda name: str(ends[name]["p50"]))
    return tuple(
        Step(name, _between(ends[name]["p50"], ends[name]["p80"]))
        for name in in_order[:SHOWN_STEPS]
    )


def _shows(build: Build, answer: Facts, workshop: Workshop) -> tuple[OwnShow, ...]:
    entries = build.entries.filter(show__left_out=False).select_related("show")
    found = []
    for entry in (one for one in entries if one.show.move_in >= workshop.clock()):
        shows = answer.get("shows", {}).get(entry.show.key, {})
        facts = shows.get("entries", {}).get(build.key, {})
        wanted = entry.level or workshop.levels[-1]
        found.append(
            OwnShow(
                name=str(entry.show),
                move_in=entry.show.move_in,
                wanted=wanted,
                chance=facts.get("levels", {}).get(wanted, {}).get("probability"),
                best=facts.get("best_level") or "",
            )
        )
    return tuple(sorted(found, key=lambda one: one.move_in))


def _levels(build: Build, answer: Facts, workshop: Workshop) -> tuple[Level, ...]:
    facts = answer.get("builds", {}).get(build.key, {}).get("levels", {})
    return tuple(
        Level(name, _between(facts[name].get("p10"), facts[name].get("p90")))
        for name in workshop.levels
        if name in facts
    )


def _between(first: str | None, last: str | None) -> str:
    start, end = moment(first), moment(last)
    if start is None or end is None:
        return "reached"
    if start.date() == end.date():
        return f"about {wording.day_range(start, end)}"
    years = start.year != end.year
    form = "{0.day} {0:%B %Y}" if years else "{0.day} {0:%B}"
    return f"between {form.format(start)} and {form.format(end)}"
