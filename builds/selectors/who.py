"""Who does a job: who may, who may not and why, and what their week looks like."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from builds.charts import wording
from builds.models import Job, Kind, Person, State
from builds.selectors.answers import Facts, moment
from builds.selectors.weeks import Hours, Load, WeekHours, monday_of, weeks_of

BY_HAND = (Kind.BENCH, Kind.CHECK)
ALONE = 2  # the trade level of someone who works without company
SKILL = {1: "beside someone", 2: "works alone", 3: "signs off"}
NEEDS = {2: "works alone", 3: "signs off"}


@dataclass(frozen=True, slots=True)
class Choice:
    """Somebody the job could be given to."""

    key: str
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class WhoPage:
    """Everything the choice needs."""

    job: Job
    car: str
    now: str
    may: tuple[Choice, ...]
    may_not: tuple[str, ...]


def why_no_hands(job: Job) -> str:
    """Say why nobody is named for a job at all; nothing if somebody can be."""
    if job.kind not in BY_HAND:
        return f"“{job}” is not done by hands here, so nobody is named for it."
    if job.state == State.DONE:
        return f"“{job}” is done. Who did it stays."
    if job.state == State.LEFT_OUT:
        return f"“{job}” is left out. Put it back first."
    return ""


def why_not(job: Job, person: Person) -> str:
    """Say why somebody may not be given a job; nothing if they may."""
    if person.left_out:
        return f"No work is planned for {person}."
    if job.trade is None:
        return ""
    level = level_in(person, job.trade)
    need = max(job.trade_level or ALONE, ALONE)
    if not level:
        return f"{person} does no {job.trade} work."
    if level < need:
        return (
            f"{person} does {job.trade} work, but {_no(level)}; "
            f"this asks for somebody who {NEEDS[need]}."
        )
    return ""


def level_in(person: Person, trade: str) -> int:
    """Give somebody's level in a trade; nought if it is not theirs."""
    levels = (one.level for one in person.trades.all() if one.trade == trade)
    return next((ALONE if one is None else one for one in levels), 0)


def who_page(job: Job, answer: Facts, load: Load | None) -> WhoPage:
    """Give the choice, with the hours each has left in the week of the job."""
    facts: Facts = answer.get("jobs", {}).get(job.key, {})
    start = moment(facts.get("planned_start"))
    people = Person.objects.filter(left_out=False).prefetch_related("trades")
    may, may_not = [], []
    for person in people:
        refusal = why_not(job, person)
        if refusal:
            may_not.append(refusal)
        else:
            words = _words(job, person, load, start.date() if start else None)
            may.append(Choice(person.key, str(person), words))
    names = {person.key: str(person) for person in people}
    return WhoPage(
        job=job,
        car=str(job.build or ""),
        now=_now(job, facts, names),
        may=tuple(may),
        may_not=tuple(may_not),
    )


def _no(level: int) -> str:
    return "only beside someone" if level < ALONE else "does not sign off"


def _now(job: Job, facts: Facts, names: Mapping[str, str]) -> str:
    """Say who has it as things stand."""
    given = " and ".join(names[key] for key in facts.get("who", ()) if key in names)
    if job.person is not None:
        return f"Named: {job.person}."
    if not given:
        return "Whoever is free; the plan has found nobody yet."
    return f"Whoever is free; the plan gives it to {given}."


def _words(job: Job, person: Person, load: Load | None, day: date | None) -> str:
    skill = SKILL[level_in(person, job.trade)] if job.trade else ""
    if load is None or day is None:
        return skill
    week = _week(load.people.get(person.key, Hours()), monday_of(day))
    left = f"{week.free:.0f} h free" if week.free else "no hour free"
    said = f"{left} in the week of {wording.day(week.monday)}"
    return f"{skill}, {said}" if skill else said


def _week(hours: Hours, monday: date) -> WeekHours:
    (week,) = weeks_of(hours, monday, 1)
    return week
