"""Jobs that wait for each other in a ring, also by travelling together.

polish ──► plate        fine: one after the other
[polish | plate]        no: one consignment, so neither can leave first
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from scheduling.errors import Fault
from scheduling.loops import find_loops, find_tangles
from scheduling.plan import Consignment, Plan
from scheduling.whereabouts import Spot, plain, quoted, spots

Waits = Mapping[str, Sequence[str]]

LONGEST_RING = 60
# no id may hold this character, so a consignment is never taken for a job
CARRIED = "\0"


def ring_faults(plan: Plan) -> Iterator[Fault]:
    """Yield one fault for each ring of jobs, then for each ring of consignments."""
    known = {job.id: Spot("jobs", n, job.id) for n, job in enumerate(plan.jobs)}
    waits: dict[str, list[str]] = {job: [] for job in known}
    for job in plan.jobs:
        named = (link.job for link in job.after)
        waits[job.id] += [one for one in named if one != job.id and one in known]
    for ring in find_loops(waits):
        yield Fault(
            known[ring[0]].at(".after"),
            f"waits for itself in a ring: {_chain([*ring, ring[0]])}",
            "Take out one of these links.",
        )
    yield from _travel_faults(plan, _untangled(waits))


def _chain(words: Sequence[str]) -> str:
    """Return a ring's jobs in order; the middle of a very long one is left out."""
    every = [plain(word) for word in words]
    if len(every) > LONGEST_RING:
        half = LONGEST_RING // 2
        left = f"({len(every) - 2 * half} more)"
        every = [*every[:half], left, *every[-half:]]
    return " → ".join(every)


def _untangled(waits: Waits) -> Waits:
    """Return the links without those that lie within rings already named."""
    group = {
        job: number for number, jobs in enumerate(find_tangles(waits)) for job in jobs
    }
    return {
        job: [one for one in before if job not in group or group[job] != group.get(one)]
        for job, before in waits.items()
    }


def _travel_faults(plan: Plan, waits: Waits) -> Iterator[Fault]:
    carrier = {
        job: CARRIED + consignment.id
        for consignment in plan.consignments
        for job in consignment.jobs
        if job in waits
    }
    gathered: dict[str, list[str]] = {}
    for job, before in waits.items():
        node = gathered.setdefault(carrier.get(job, job), [])
        node.extend(carrier.get(one, one) for one in before)
    carried = {
        CARRIED + one.id: (spot, one)
        for spot, one in spots("consignments", plan.consignments)
    }
    for ring in find_loops(gathered):
        yield _travel_fault(ring, waits, carried)


def _travel_fault(
    ring: tuple[str, ...],
    waits: Waits,
    carried: Mapping[str, tuple[Spot, Consignment]],
) -> Fault:
    """Return the fault of a ring that only closes because jobs travel together."""
    turn = next(n for n, node in enumerate(ring) if node in carried)
    nodes = [*ring[turn:], *ring[: turn + 1]]
    jobs = [carried[node][1].jobs if node in carried else (node,) for node in nodes]
    chain: list[str] = []
    arrived = ""
    for here, there in pairwise(jobs):
        left, reached = _link_between(here, there, waits)
        if arrived not in ("", left):
            chain[-1] += f" (leaves with {plain(left)})"
        chain += [] if arrived else [left]
        chain.append(reached)
        arrived = reached
    spot = carried[nodes[0]][0]
    return Fault(
        spot.at(".jobs"),
        f"travel together, but wait for each other: {_chain(chain)}",
        f"Take a job out of {quoted(spot.name)}, or take out one of these links.",
    )


def _link_between(
    here: Sequence[str], there: Sequence[str], waits: Waits
) -> tuple[str, str]:
    """Return a job of `here` and the job of `there` that waits for it."""
    return next(
        (before, job)
        for job in there
        for before in waits.get(job, ())
        if before in here
    )
