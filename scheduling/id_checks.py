"""Ids given twice, and names of things the plan does not have."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache

from scheduling.errors import Fault
from scheduling.plan import Plan
from scheduling.whereabouts import Spot, listed, quoted, spots

Mention = tuple[Spot, str, str, str | None]

ONE_OF = {
    "calendars": "a calendar",
    "people": "a person",
    "places": "a place",
    "vendors": "a vendor",
    "builds": "a build",
    "jobs": "a job",
    "levels": "a level",
}
FEW = 8


def id_faults(plan: Plan) -> Iterator[Fault]:
    """Yield ids given twice and mentions of ids that are nowhere."""
    yield from _twice(plan)
    yield from _unknown(plan)


def _groups(plan: Plan) -> dict[str, Sequence[str]]:
    # Without any calendar the plan has one, "always".
    calendars = [one.id for one in plan.calendars]
    return {
        "calendars": calendars or ["always"],
        "people": [one.id for one in plan.people],
        "places": [one.id for one in plan.places],
        "vendors": [one.id for one in plan.vendors],
        "builds": [one.id for one in plan.builds],
        "shows": [one.id for one in plan.shows],
        "jobs": [one.id for one in plan.jobs],
        "consignments": [one.id for one in plan.consignments],
    }


def _twice(plan: Plan) -> Iterator[Fault]:
    for group, ids in _groups(plan).items():
        for number, first in _repeats(ids):
            yield Fault(
                Spot(group, number, ids[number]).at(),
                f"has the same id as {group}[{first}]",
                "Give one of the two another id.",
            )
    for number, _ in _repeats(plan.levels):
        what = f"is {quoted(plan.levels[number])} for the second time"
        yield Fault(f"levels[{number}]", what, "Name every level once, lowest first.")
    for spot, show in spots("shows", plan.shows):
        for number, _ in _repeats([entry.build for entry in show.entries]):
            yield Fault(
                spot.at(f".entries[{number}]"),
                f"enters the build {quoted(show.entries[number].build)} a second time",
                "Keep one entry for each car.",
            )


def _repeats(ids: Iterable[str]) -> Iterator[tuple[int, int]]:
    """Yield the number of each repeated id with that of its first place."""
    first: dict[str, int] = {}
    for number, one in enumerate(ids):
        if first.setdefault(one, number) != number:
            yield number, first[one]


def _unknown(plan: Plan) -> Iterator[Fault]:
    groups = {**_groups(plan), "levels": plan.levels}
    known = {group: frozenset(ids) for group, ids in groups.items()}

    @cache  # a large file may hold thousands of slips
    def alike(group: str) -> dict[str, str]:
        return {_folded(one): one for one in reversed(groups[group])}

    for spot, rest, group, name in _mentions(plan):
        if name is not None and name not in known[group]:
            what = f"names {ONE_OF[group]} the plan does not have: {quoted(name)}"
            meant = alike(group).get(_folded(name))
            yield Fault(spot.at(rest), what, _mend(meant, group, groups[group]))


def _mend(meant: str | None, group: str, known: Sequence[str]) -> str:
    if meant is not None:
        return f"Write it as the plan does: {quoted(meant)}."
    if 0 < len(known) <= FEW:
        return f"Use one of: {listed(known)}; or add it under {quoted(group)}."
    return f"Add it under {quoted(group)}, or correct the name."


def _folded(name: str) -> str:
    return "".join(one for one in name.casefold() if one.isalnum())


def _mentions(plan: Plan) -> Iterator[Mention]:
    for person_spot, person in spots("people", plan.people):
        yield person_spot, ".calendar", "calendars", person.calendar
    for place_spot, place in spots("places", plan.places):
        yield place_spot, ".calendar", "calendars", place.calendar
    for vendor_spot, vendor in spots("vendors", plan.vendors):
        yield vendor_spot, ".calendar", "calendars", vendor.calendar
    for show_spot, show in spots("shows", plan.shows):
        for number, entry in enumerate(show.entries):
            yield show_spot, f".entries[{number}].build", "builds", entry.build
            yield show_spot, f".entries[{number}].level", "levels", entry.level
    yield from _job_mentions(plan)
    for spot, consignment in spots("consignments", plan.consignments):
        yield spot, ".vendor", "vendors", consignment.vendor
        for number, job in enumerate(consignment.jobs):
            yield spot, f".jobs[{number}]", "jobs", job


def _job_mentions(plan: Plan) -> Iterator[Mention]:
    for spot, job in spots("jobs", plan.jobs):
        yield spot, ".build", "builds", job.build
        yield spot, ".person", "people", job.person
        yield spot, ".vendor", "vendors", job.vendor
        yield spot, ".level", "levels", job.level
        for number, link in enumerate(job.after):
            yield spot, f".after[{number}]", "jobs", link.job
        for number, use in enumerate(job.places):
            yield spot, f".places[{number}]", "places", use.place
        yield spot, ".robbed_for", "builds", job.robbed_for
        for number, way in enumerate(job.ways):
            yield spot, f".ways[{number}].vendor", "vendors", way.vendor
