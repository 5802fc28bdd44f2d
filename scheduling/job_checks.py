"""What cannot be true of a single job."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, datetime

from scheduling.errors import Fault
from scheduling.formats import day_text, moment_text
from scheduling.place_units import units_taken
from scheduling.plan import Estimate, Job, Person, Plan
from scheduling.whereabouts import Spot, quoted, spots

WORKS_ALONE = 2
UNITS = {
    "bench": "working hours",
    "check": "working hours",
    "outside": "the vendor's working days",
    "order": "the supplier's working days",
    "decision": "days",
    "stand": "hours by the clock",
}


def job_faults(plan: Plan) -> Iterator[Fault]:
    """Yield what is wrong within each job, taken by itself."""
    people = {person.id: person for person in plan.people}
    capacity = {place.id: place.capacity for place in plan.places}
    for spot, job in spots("jobs", plan.jobs):
        yield from _estimate_faults(spot, job)
        yield from _order_faults(spot, job)
        yield from _now_faults(spot, job, plan.now)
        yield from _count_faults(spot, job)
        yield from _link_faults(spot, job)
        if job.state not in ("done", "left out"):
            yield from _person_faults(spot, job, people)
            yield from _place_faults(spot, job, capacity)


def _estimate_faults(spot: Spot, job: Job) -> Iterator[Fault]:
    if job.estimate is not None:
        yield from _value_faults(spot, job.estimate)
    elif job.kind != "mark" and job.state not in ("done", "left out"):
        yield Fault(
            spot.at(),
            "has no estimate",
            f"Give its likely time in {UNITS[job.kind]}.",
        )


def _value_faults(spot: Spot, estimate: Estimate) -> Iterator[Fault]:
    values = {"low": estimate.low, "likely": estimate.likely, "high": estimate.high}
    given = {name: value for name, value in values.items() if value is not None}
    wrong = [name for name, value in given.items() if not 0 <= value < math.inf]
    for name in wrong:
        what = f"is {given[name]:g}, which is no length of time"
        yield Fault(spot.at(f".estimate.{name}"), what, "Write nought or more.")
    if wrong or estimate.fixed or len(given) == 1:
        return
    if len(given) == 2:
        have, lack = ("low", "high") if "low" in given else ("high", "low")
        what = f"gives a {have} without a {lack}"
        yield Fault(
            spot.at(".estimate"), what, f"Give the {lack} too, or take both out."
        )
    elif not given["low"] <= given["likely"] <= given["high"]:
        row = ", ".join(f"{name} {value:g}" for name, value in given.items())
        what = f"is out of order: {row}"
        yield Fault(
            spot.at(".estimate"), what, "Let low be the smallest and high the largest."
        )


def _order_faults(spot: Spot, job: Job) -> Iterator[Fault]:
    if job.sent and job.promised and job.promised < job.sent:
        yield Fault(
            spot.at(".promised"),
            f"is {day_text(job.promised)}, before it was sent ({day_text(job.sent)})",
            "Correct one of the two days.",
        )
    if job.started and job.finished and job.finished < job.started:
        started = moment_text(job.started)
        yield Fault(
            spot.at(".finished"),
            f"is {moment_text(job.finished)}, before it was started ({started})",
            "Correct one of the two moments.",
        )
    if job.not_before and job.needed_by and job.not_before.date() > job.needed_by:
        needed = day_text(job.needed_by)
        yield Fault(
            spot.at(".not_before"),
            f"is {moment_text(job.not_before)}, after the day it is needed ({needed})",
            "Correct one of the two.",
        )


def _now_faults(spot: Spot, job: Job, now: datetime) -> Iterator[Fault]:
    past: dict[str, date | None] = {"sent": job.sent}
    if job.state == "done":
        past |= {"started": job.started, "finished": job.finished}
    if job.state == "under way":
        past |= {"started": job.started}
    if job.state == "left out":
        past = {}
    for name, day in past.items():
        if day is not None and _is_after(day, now):
            text = moment_text(day) if isinstance(day, datetime) else day_text(day)
            what = f"is {text}, which is still to come (now is {moment_text(now)})"
            fix = f"Correct it; until then the job is not {_done_word(name, job)}."
            yield Fault(spot.at(f".{name}"), what, fix)


def _is_after(day: date, now: datetime) -> bool:
    return day > now if isinstance(day, datetime) else day > now.date()


def _done_word(name: str, job: Job) -> str:
    return "sent" if name == "sent" else job.state


def _count_faults(spot: Spot, job: Job) -> Iterator[Fault]:
    if job.pieces is not None and job.pieces_back > job.pieces:
        yield Fault(
            spot.at(".pieces_back"),
            f"is {job.pieces_back}, more than the {job.pieces} that went",
            "Count again, or correct the pieces.",
        )
    if job.kind == "mark" and job.state == "under way":
        yield Fault(
            spot.at(".state"),
            'is "under way", but a mark takes no time',
            'Set it to "open" or "done".',
        )


def _link_faults(spot: Spot, job: Job) -> Iterator[Fault]:
    seen: set[tuple[str, str]] = set()
    for number, link in enumerate(job.after):
        rest = f".after[{number}]"
        if link.job == job.id:
            what = "lets the job wait for itself"
            yield Fault(spot.at(rest), what, "Take the link out.")
        elif (link.job, link.kind) in seen:
            what = f"waits for {quoted(link.job)} a second time in the same way"
            yield Fault(spot.at(rest), what, "Keep one of the two links.")
        seen.add((link.job, link.kind))


def _person_faults(spot: Spot, job: Job, people: dict[str, Person]) -> Iterator[Fault]:
    person = people.get(job.person or "")
    if person is None or job.trade is None:
        return
    level, wanted = person.trades.get(job.trade, 0), job.trade_level or WORKS_ALONE
    if level >= wanted:
        return
    trade, who = quoted(job.trade), quoted(person.id)
    what = f"is {who}, who does not have the trade {trade}"
    if level:
        what = f"is {who}, level {level} in {trade}, where level {wanted} is needed"
    yield Fault(
        spot.at(".person"),
        what,
        "Name somebody else, or nobody: then anyone allowed to does it.",
    )


def _place_faults(spot: Spot, job: Job, capacity: dict[str, int]) -> Iterator[Fault]:
    for place, uses in units_taken([job]).items():
        if uses > capacity.get(place, uses):
            yield Fault(
                spot.at(".places"),
                f"uses {uses} of {quoted(place)}, which holds {capacity[place]}",
                "Use less of the place, or raise its capacity.",
            )
