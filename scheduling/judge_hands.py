"""The judge on people, places, vendors' slots and hours."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import pairwise

from scheduling.errors import Fault
from scheduling.judge_case import HANDS, SENT, Case, Claim, begun, expected, fault
from scheduling.judge_days import days_of
from scheduling.plan import Job

ENOUGH = 1e-3  # hours or days; times are whole quarter-hours
ALONE = 2


def over_used(case: Case) -> Iterator[Fault]:
    """Yield every job whose people, places, slot or hours cannot be so."""
    for claim in case.bound():
        yield from _team(case, claim)
        yield from _hours(case, claim)
    yield from _two_jobs_at_once(case)
    yield from _full_places(case)
    yield from _slots(case)


def _needs_team(claim: Claim) -> bool:
    job = claim.job
    named = bool(job.trade or job.person)
    return job.kind in HANDS and named and claim.finish > claim.start


def _team(case: Case, claim: Claim) -> Iterator[Fault]:
    job = claim.job
    if job.kind in SENT and job.vendor and claim.who != (job.vendor,):
        yield fault(job, f"is not with its vendor “{job.vendor}”")
    if not _needs_team(claim):
        return
    here = {one.id: one for one in case.plan.people if not one.left_out}
    if len(set(claim.who)) != job.people or not set(claim.who) <= set(here):
        yield fault(job, f"needs {job.people} of the people here, not {claim.who}")
        return
    if job.person and job.person not in claim.who:
        yield fault(job, f"is for “{job.person}”, not {claim.who}")
    if job.trade:
        levels = [here[one].trades.get(job.trade, 0) for one in claim.who]
        yield from _levels(job, job.trade, levels)


def _levels(job: Job, trade: str, levels: list[int]) -> Iterator[Fault]:
    if min(levels) < 1:
        yield fault(job, f"is given to somebody without the trade “{trade}”")
    if max(levels) < max(job.trade_level or ALONE, ALONE):
        yield fault(job, f"has nobody on it at its level of “{trade}”")


def _resources(case: Case, claim: Claim) -> tuple[str, ...]:
    """Return all that has to be there while a job is worked on."""
    job = claim.job
    if job.kind in ("stand", "decision"):
        return ()
    if job.kind in SENT:
        return (f"vendor:{job.vendor}" if job.vendor else case.days.shop,)
    here = {one.id for one in case.plan.people}
    people = tuple(f"person:{one}" for one in claim.who if one in here)
    places = tuple(f"place:{use.place}" for use in job.places)
    return (*(people or (case.days.shop,)), *places)


def _hours(case: Case, claim: Claim) -> Iterator[Fault]:
    job, needed = claim.job, expected(claim.job, case.plan)
    if needed <= ENOUGH or job.promised:
        return
    used = _resources(case, claim)
    given = _given(case, claim, used)
    if job.kind in HANDS:
        needed *= _pace(case, claim)
    if given < needed - ENOUGH:
        yield fault(job, f"needs {needed:.2f} and is given {given:.2f}")
    if not _slotted(case, claim) and not _opens(case, used, claim.start):
        yield fault(job, f"starts at {claim.start:%Y-%m-%d %H:%M}, in closed time")
    if job.unbroken and job.kind in HANDS and not begun(job):
        for day, _ in days_of(claim.start, claim.finish):
            if any(case.days.lost(one, day) for one in used):
                yield fault(job, f"may not be broken off and spans {day}")


def _given(case: Case, claim: Claim, used: tuple[str, ...]) -> float:
    """Return the time there is, in the unit of the job's kind."""
    length = claim.finish - claim.start
    if claim.job.kind == "decision":
        return length / timedelta(days=1)
    if claim.job.kind == "stand":
        return length / timedelta(hours=1)
    if claim.job.kind in SENT:
        return case.days.days(used[0], claim.start, claim.finish)
    return case.days.hours(used, claim.start, claim.finish)


def _opens(case: Case, used: tuple[str, ...], start: datetime) -> bool:
    soon = start + timedelta(minutes=15)
    return case.days.hours(used, start, soon) > 0


def _pace(case: Case, claim: Claim) -> float:
    paces = [
        one.pace.get(claim.job.trade or "", 1.0)
        for one in case.plan.people
        if one.id in claim.who
    ]
    return max(paces, default=1.0)


def _two_jobs_at_once(case: Case) -> Iterator[Fault]:
    diary: dict[str, list[Claim]] = defaultdict(list)
    for claim in case.bound():
        if claim.job.kind in HANDS and claim.finish > claim.start:
            for person in claim.who:
                diary[person].append(claim)
    for person, claims in diary.items():
        claims.sort(key=lambda one: (one.start, one.finish))
        for first, second in pairwise(claims):
            if second.start < first.finish:
                yield fault(
                    second.job, f"has “{person}”, who is still on “{first.job.id}”"
                )


def _full_places(case: Case) -> Iterator[Fault]:
    for place in case.plan.places:
        inside = [
            (claim, use.uses)
            for claim in case.bound()
            for use in claim.job.places
            if use.place == place.id and claim.finish > claim.start
        ]
        for claim, _ in inside:
            units = sum(
                uses for one, uses in inside if one.start <= claim.start < one.finish
            )
            if units > place.capacity:
                yield fault(claim.job, f"finds no room in “{place.id}”")


def _slotted(case: Case, claim: Claim) -> bool:
    job = claim.job
    ruled = {one.id for one in case.plan.vendors if one.slots}
    free = begun(job) or job.promised or expected(job, case.plan) <= 0
    return job.kind == "outside" and job.vendor in ruled and job.slot and not free


def _slots(case: Case) -> Iterator[Fault]:
    crate = {job: one.id for one in case.plan.consignments for job in one.jobs}
    for vendor in case.plan.vendors:
        if vendor.slots is None:
            continue
        mine = [
            one
            for one in case.bound()
            if one.job.vendor == vendor.id and _slotted(case, one)
        ]
        last = max((one.start.date() for one in mine), default=vendor.slots.first)
        days = case.days.slot_days(
            vendor.id, vendor.slots.first, vendor.slots.every_working_days, last
        )
        taken: dict[date, str] = {}
        for claim in mine:
            day = claim.start.date()
            name = crate.get(claim.job.id, f"job {claim.job.id}")
            if day not in days:
                yield fault(claim.job, f"starts on {day}, which is no slot")
            elif taken.setdefault(day, name) != name:
                yield fault(claim.job, f"takes a slot that “{taken[day]}” has")
