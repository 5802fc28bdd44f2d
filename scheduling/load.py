"""Whose hours go where: what a plan asks of each person and place, and what they have.

Two readings of the same jobs. `given` is the shared plan, in which nobody is in two
places. `asked` puts each job at its earliest dates, as if hands were never short, and
asks it of whoever the plan gives it to: there people are asked for more than they have.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Any

import numpy as np

from scheduling.calendars import YEARS_AHEAD, YEARS_AT_MOST, Clocks
from scheduling.plan import Job, Plan
from scheduling.timeline import PER_DAY, PER_HOUR, TINY
from scheduling.work import HAND_KINDS, team_key, teams_for
from scheduling.working_time import Clock

Facts = Mapping[str, Any]
Pairs = list[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Stretch:
    """Working time of one job inside one day; `hours` is what it counts for."""

    job: str
    start: datetime
    finish: datetime
    hours: float


@dataclass(slots=True)
class Hours:
    """One person's or place's own hours, and those the plan asks of it.

    Stretches lie in time order. A place counts its units: two ramps have twice the
    hours, and a job that takes both counts twice.
    """

    own: list[tuple[datetime, datetime, float]]
    given: list[Stretch] = field(default_factory=list)
    asked: list[Stretch] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Load:
    """The hours of every person and place, by id."""

    people: dict[str, Hours]
    places: dict[str, Hours]


def load_of(plan: Plan, jobs: Mapping[str, Facts], until: date) -> Load:
    """Return what a plan's answer asks of everybody, from now to the end of a day.

    Parameters
    ----------
    plan : Plan
        The plan that was answered.
    jobs : mapping of str to mapping
        The ``jobs`` of its answer, as `Answer.as_dict` gives them.
    until : date
        Last day, included, of everybody's own hours; the jobs' are all given.

    Returns
    -------
    Load
        People and places in the plan's order; nobody who is left out.

    Notes
    -----
    Our own rule for `asked`: a job keeps the hours the plan gives it, laid between its
    earliest start and finish in the hours of all who could do it. So both readings
    have the same sum for each person. A place without a calendar of its own is counted
    in the workshop's hours. O(jobs x days). Hours further on than the engine writes its
    calendars (three years, or fifteen where the plan is longer) are not given.
    """
    clocks = _clocks(plan, jobs, until)
    load = _own_hours(plan, clocks, until)
    for job in plan.jobs:
        facts = jobs.get(job.id, {})
        if job.state not in ("done", "left out") and facts.get("planned_finish"):
            _ask_people(load, clocks, plan, job, facts)
            _ask_places(load, clocks, plan, job, facts)
    for hours in (*load.people.values(), *load.places.values()):
        hours.given.sort(key=lambda one: (one.start, one.job))
        hours.asked.sort(key=lambda one: (one.start, one.job))
    return load


def _own_hours(plan: Plan, clocks: Clocks, until: date) -> Load:
    people = [
        (one.id, _person(clocks, one.id)) for one in plan.people if not one.left_out
    ]
    places = [(one, _place(plan, clocks, one.id)) for one in plan.places]
    now = clocks.timeline.quarter(plan.now)
    end = clocks.timeline.quarter(until + timedelta(days=1))
    return Load(
        {key: Hours(_own(clocks, _runs(clock, now, end), 1)) for key, clock in people},
        {
            place.id: Hours(_own(clocks, _runs(clock, now, end), place.capacity))
            for place, clock in places
        },
    )


def _clocks(plan: Plan, jobs: Mapping[str, Facts], until: date) -> Clocks:
    """Return the plan's clocks, written far enough for its last job."""
    ends = [facts.get("planned_finish") or "" for facts in jobs.values()]
    last = max([*ends, until.isoformat()])[:10]
    clocks = Clocks(plan, YEARS_AHEAD)
    if (
        clocks.timeline.quarter(date.fromisoformat(last)) + PER_DAY
        > clocks.timeline.end
    ):
        clocks = Clocks(plan, YEARS_AT_MOST)
    return clocks


def _person(clocks: Clocks, person: str) -> Clock:
    return clocks.of(frozenset({f"person:{person}"}))


def _place(plan: Plan, clocks: Clocks, place: str) -> Clock:
    calendar = next(one.calendar for one in plan.places if one.id == place)
    return clocks.of(
        frozenset({f"calendar:{calendar}" if calendar else clocks.default})
    )


def _own(
    clocks: Clocks, runs: Pairs, units: int
) -> list[tuple[datetime, datetime, float]]:
    moment = clocks.timeline.moment
    return [(moment(a), moment(b), (b - a) / PER_HOUR * units) for a, b in runs]


def _ask_people(load: Load, clocks: Clocks, plan: Plan, job: Job, facts: Facts) -> None:
    team = tuple(one for one in facts["who"] if one in load.people)
    if job.kind not in HAND_KINDS or not team:
        return
    clock = clocks.of(team_key(team, job))
    given = _stretches(clocks, clock, job, facts, "planned")
    keys = [team_key(one, job) for one in teams_for(job, plan.people)]
    anyone = clocks.any_of(keys) if keys else clock
    asked = _stretches(clocks, anyone, job, facts, "early") or given
    asked = _scaled(asked, sum(one.hours for one in given))
    for person in team:
        load.people[person].given += given
        load.people[person].asked += asked


def _ask_places(load: Load, clocks: Clocks, plan: Plan, job: Job, facts: Facts) -> None:
    for use in job.places:
        clock = _place(plan, clocks, use.place)
        hours = load.places[use.place]
        for found, times in ((hours.given, "planned"), (hours.asked, "early")):
            part = _stretches(clocks, clock, job, facts, times)
            found += _scaled(part, use.uses * sum(one.hours for one in part))


def _stretches(
    clocks: Clocks, clock: Clock, job: Job, facts: Facts, times: str
) -> list[Stretch]:
    """Return the working time between a job's planned or earliest start and finish."""
    start, finish = (
        clocks.timeline.quarter(datetime.fromisoformat(facts[f"{times}_{end}"]))
        for end in ("start", "finish")
    )
    moment = clocks.timeline.moment
    return [
        Stretch(job.id, moment(a), moment(b), (b - a) / PER_HOUR)
        for a, b in _runs(clock, start, finish)
    ]


def _scaled(stretches: Sequence[Stretch], hours: float) -> list[Stretch]:
    """Return the same stretches counting for so many hours in all."""
    total = sum(one.hours for one in stretches)
    return [
        Stretch(one.job, one.start, one.finish, one.hours * hours / total)
        for one in stretches
    ]


def _runs(clock: Clock, start: float, finish: float) -> Pairs:
    """Return the unbroken working time between two moments, cut at midnight."""
    first, last = int(start), min(int(np.ceil(finish - TINY)), clock.end)
    if last <= first:
        return []
    open_now = clock.working[first:last]
    edges = np.flatnonzero(np.diff(open_now, prepend=False, append=False)) + first
    runs: Pairs = []
    for a, b in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        cuts = [a, *range((a // PER_DAY + 1) * PER_DAY, b, PER_DAY), b]
        runs += [
            (max(float(one), start), min(float(other), finish))
            for one, other in pairwise(cuts)
        ]
    return runs
