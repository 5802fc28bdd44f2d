"""What cannot travel together."""

from __future__ import annotations

from collections.abc import Iterator

from scheduling.errors import Fault
from scheduling.place_units import units_taken
from scheduling.plan import Consignment, Job, Plan
from scheduling.whereabouts import Spot, quoted, spots


def consignment_faults(plan: Plan) -> Iterator[Fault]:
    """Yield jobs that cannot be in the consignment that names them."""
    jobs = {job.id: job for job in plan.jobs}
    carried: dict[str, Spot] = {}
    for spot, consignment in spots("consignments", plan.consignments):
        for number, name in enumerate(consignment.jobs):
            where = spot.at(f".jobs[{number}]")
            if name in carried:
                what = f"is {quoted(name)}, already in {carried[name].at()}"
                yield Fault(where, what, "A job travels once; keep it in one of them.")
            elif name in jobs:
                yield from _job_faults(where, jobs[name], consignment)
            carried.setdefault(name, spot)
        together = [jobs[one] for one in consignment.jobs if one in jobs]
        going = [one for one in together if one.state not in ("done", "left out")]
        yield from _crowded(spot, going, plan)


def _crowded(spot: Spot, jobs: list[Job], plan: Plan) -> Iterator[Fault]:
    """Yield places with no room for all that is taken of them at once."""
    room = {place.id: place.capacity for place in plan.places}
    for place, units in units_taken(jobs).items():
        if place in room and units > room[place]:
            what = f"takes {units} of {quoted(place)}, which holds {room[place]}"
            cure = "Give the place to fewer of its jobs, or send them apart."
            yield Fault(spot.at(".jobs"), what, cure)


def _job_faults(where: str, job: Job, consignment: Consignment) -> Iterator[Fault]:
    if job.kind != "outside":
        yield Fault(
            where,
            f'is {quoted(job.id)}, a job of kind "{job.kind}"',
            'Only jobs of kind "outside" travel in a consignment.',
        )
    elif job.vendor != consignment.vendor:
        whose = f"goes to {quoted(job.vendor)}" if job.vendor else "names no vendor"
        yield Fault(
            where,
            f"is {quoted(job.id)}, which {whose}, not {quoted(consignment.vendor)}",
            "Give the job the consignment's vendor, or take it out.",
        )
