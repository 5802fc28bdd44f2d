"""What cannot be true of work outside: past returns, ways to do a job, parts robbed."""

from __future__ import annotations

from collections.abc import Iterator

from scheduling.errors import Fault
from scheduling.plan import Job, Plan, Vendor
from scheduling.whereabouts import Spot, quoted, spots


def outside_faults(plan: Plan) -> Iterator[Fault]:
    """Yield what is wrong with vendors' returns, then with jobs' ways and loans."""
    for vendor_spot, vendor in spots("vendors", plan.vendors):
        yield from _return_faults(vendor_spot, vendor)
    for spot, job in spots("jobs", plan.jobs):
        yield from _way_faults(spot, job)
        yield from _part_faults(spot, job)


def _return_faults(spot: Spot, vendor: Vendor) -> Iterator[Fault]:
    for number, past in enumerate(vendor.history):
        if past.waited_days >= past.actual_days:
            yield Fault(
                spot.at(f".history[{number}].waited_days"),
                f"is {past.waited_days:g} of the {past.actual_days:g} days it took",
                "Leave some of the days for the work itself.",
            )


def _way_faults(spot: Spot, job: Job) -> Iterator[Fault]:
    seen: set[str] = set()
    for number, way in enumerate(job.ways):
        where = spot.at(f".ways[{number}]")
        if way.id in seen:
            what = f"has the same id as another way: {quoted(way.id)}"
            yield Fault(where, what, "Give one of the two another id.")
        seen.add(way.id)
        if way.kind == "outside" and way.vendor is None:
            yield Fault(where, "goes outside, but to nobody", "Name its vendor.")
    if job.way is not None and job.way not in seen:
        what = f"is {quoted(job.way)}, which is none of its ways"
        yield Fault(spot.at(".way"), what, "Name one of the ways, or leave it out.")


def _part_faults(spot: Spot, job: Job) -> Iterator[Fault]:
    if job.robbed_for is not None and job.robbed_for == job.build:
        yield Fault(
            spot.at(".robbed_for"),
            "is the car the part came from",
            "Name the car that got the part.",
        )
    left = (job.pieces or 0) - job.pieces_back
    if job.pieces is not None and 0 < job.pieces_wrong > left:
        yield Fault(
            spot.at(".pieces_wrong"),
            f"is {job.pieces_wrong}, more than are not yet back",
            "Count again: a wrong piece is not one that is back.",
        )
