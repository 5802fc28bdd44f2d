"""Wait for the last piece, send what is ready, or split: dates, odds, minimum charges.

    wait     everything leaves together, when the last piece is ready
    ready    what is ready first leaves; the others follow, each when it is ready
    split    what is ready first leaves; the others wait for each other, and follow

Visible parts that have to match never leave in two batches: a ready one is held back
for the last of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from scheduling.chances import (
    Chances,
    Effort,
    Entry,
    Trip,
    chances,
    each_alone,
    sent_together,
)
from scheduling.going import batches, matching
from scheduling.plan import Consignment, Job, Plan

WAIT, READY, SPLIT = "wait", "ready", "split"
Loads = tuple[tuple[str, ...], ...]
TOGETHER = "advice\0"  # no id in a file may hold this character


@dataclass(frozen=True, slots=True)
class Load:
    """Jobs that leave together, and when."""

    jobs: tuple[str, ...]
    trip: Trip


@dataclass(frozen=True, slots=True)
class Option:
    """One way to send some jobs."""

    name: str
    loads: tuple[Load, ...]
    charges: int
    cost: float | None
    entries: Mapping[Entry, float]


@dataclass(frozen=True, slots=True)
class Sending:
    """The ways to choose from; `held_back` are ready, but must match a late one."""

    ready: tuple[str, ...]
    late: tuple[str, ...]
    held_back: tuple[str, ...]
    options: tuple[Option, ...]


def sending_options(
    plan: Plan, jobs: tuple[str, ...], effort: Effort, alone: Mapping[str, Trip]
) -> Sending:
    """Return the ways to send jobs that are going the same way.

    Parameters
    ----------
    plan : Plan
        Checked.
    jobs : ids of outside jobs for one vendor, none of which has left
    alone : trips by job
        When each would leave if it left on its own.

    Returns
    -------
    Sending
        Only `wait` where all are ready on one day; no `split` where it would be the
        same as `ready`. `cost` is the minimum charges together, None where none is
        known.

    Notes
    -----
    Ready are those that could leave today, or if there is none, on the first day that
    one could. No job is ready before what stands before it, trial fits included.
    """
    records = {job.id: job for job in plan.jobs if job.id in jobs}
    bare = each_alone(plan, jobs)
    together = sent_together(plan, (_load(plan, jobs, 0),))
    first = min(alone[job].leaves.date() for job in jobs)
    able = [job for job in jobs if alone[job].leaves.date() <= first]
    late = [job for job in jobs if job not in able]
    shades = {matching(records[job]) for job in late} - {None}
    held = tuple(job for job in able if matching(records[job]) in shades)
    ready = tuple(job for job in able if job not in held)
    rest = (*held, *late)
    ways: dict[str, tuple[Plan, Loads]] = {WAIT: (together, (jobs,))}
    if ready and rest:
        ways |= _parted(bare, ready, rest, records)
    options = [
        _option(name, way, loads, records, effort)
        for name, (way, loads) in ways.items()
    ]
    return Sending(ready, tuple(late), held, tuple(options))


def _parted(
    bare: Plan,
    ready: tuple[str, ...],
    rest: tuple[str, ...],
    records: Mapping[str, Job],
) -> dict[str, tuple[Plan, Loads]]:
    """Return the ways in which what is ready leaves first."""
    singles = _singles(rest, records)
    each: Loads = (ready, *singles)
    found = {READY: (_with(bare, each), each)}
    if len(singles) > 1:
        two: Loads = (ready, rest)
        found[SPLIT] = (_with(bare, two), two)
    return found


def _singles(rest: tuple[str, ...], records: Mapping[str, Job]) -> Loads:
    """Return the late jobs one by one, those that have to match together."""
    groups: dict[object, list[str]] = {}
    for job in rest:
        groups.setdefault(matching(records[job]) or job, []).append(job)
    return tuple(tuple(group) for group in groups.values())


def _with(plan: Plan, loads: Loads) -> Plan:
    made = tuple(_load(plan, load, number) for number, load in enumerate(loads))
    return sent_together(plan, made)


def _load(plan: Plan, jobs: tuple[str, ...], number: int) -> Consignment:
    vendor = next(one.vendor for one in plan.jobs if one.id == jobs[0])
    return Consignment(f"{TOGETHER}{number}", vendor or "", jobs)


def _option(
    name: str, plan: Plan, loads: Loads, records: Mapping[str, Job], effort: Effort
) -> Option:
    firsts = tuple(load[0] for load in loads)
    found: Chances = chances(plan, effort, firsts)
    to = records[firsts[0]].vendor
    vendor = next(one for one in plan.vendors if one.id == to)
    charges = sum(batches([records[job] for job in load], vendor) for load in loads)
    charge = vendor.minimum_charge
    return Option(
        name,
        tuple(Load(load, found.trips[load[0]]) for load in loads),
        charges,
        None if charge is None else charge * charges,
        found.entries,
    )
