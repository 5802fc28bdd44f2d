"""What moved against the plan people follow, and in words why."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import takewhile

from scheduling.network import Network
from scheduling.passes import asks
from scheduling.shared_plan import SharedPlan
from scheduling.timeline import TINY
from scheduling.wishes import Following, whole
from scheduling.working_time import Clock


@dataclass(frozen=True, slots=True)
class Moved:
    """A job that starts at another time, or is in other hands; quarters."""

    job: str
    build: str | None
    was: int
    now: int
    was_who: tuple[str, ...]
    who: tuple[str, ...]
    why: str


def moved_jobs(
    network: Network, shared: SharedPlan, following: Following | None
) -> list[Moved]:
    """Return the open jobs that moved, in the order they now start.

    Notes
    -----
    O(jobs moved x nodes).
    """
    if following is None:
        return []
    found = []
    for number, node in enumerate(network.nodes):
        if node.begun or node.gone:
            continue
        for job in node.ids:
            one = _moved(network, shared, following, number, job)
            if one:
                found.append(one)
    return sorted(found, key=lambda one: (one.now, one.job))


def _moved(
    network: Network, shared: SharedPlan, following: Following, number: int, job: str
) -> Moved | None:
    if job not in following.start:
        return None
    was, now = following.start[job], whole(shared.start[number])
    was_who, who = following.who.get(job, ()), shared.team[number]
    if was == now and sorted(was_who) == sorted(who):
        return None
    why = why_then(network, shared, number)
    if was == now:
        why = "Other hands finish it sooner, or the others are wanted elsewhere."
    elif now < was:
        why = f"It can start sooner. {why}"
    return Moved(job, network.jobs[job].build, was, now, was_who, who, why)


def why_then(network: Network, shared: SharedPlan, number: int) -> str:
    """Return in a sentence what keeps a node from starting any sooner."""
    node, start = network.nodes[number], shared.start[number]
    clock = _clock(network, shared, number)
    for arc in node.before:
        before = shared.start[arc.before], shared.finish[arc.before]
        if _meets(clock, asks(network, node, arc, *before), start):
            return f"It waits for {_name(network, arc.before)}."
    for other in _busy_until(shared, clock, number):
        both = [one for one in shared.team[number] if one in shared.team[other]]
        if both:
            return _hands_sentence(network, number, other, both[0])
        place = _same_place(network, number, other)
        if place:
            return f"{_place(network, place)} is taken by {_name(network, other)}."
    if node.release > network.now + TINY and _meets(clock, node.release, start):
        return "It may not start before the date set for it."
    if _meets(clock, network.now, start):
        return "Nothing is in the way any more."
    return "It waits for a vendor’s slot, or for the days its people are here."


def _clock(network: Network, shared: SharedPlan, number: int) -> Clock:
    return network.nodes[number].work.clock_of(shared.team[number])


def _meets(clock: Clock, moment: float, start: float) -> bool:
    """Return whether `start` is the first working moment after `moment`."""
    return moment <= start + TINY and clock.opening(float(whole(moment))) >= start


def _busy_until(shared: SharedPlan, clock: Clock, number: int) -> list[int]:
    """Return the nodes whose end is the last working moment before a node's start."""
    start = shared.start[number]
    before = [
        other
        for other, finish in enumerate(shared.finish)
        if other != number and shared.start[other] < finish <= start + TINY
    ]
    before.sort(key=shared.finish.__getitem__, reverse=True)
    meeting = takewhile(
        lambda other: _meets(clock, shared.finish[other], start), before
    )
    return sorted(meeting)


def _hands_sentence(network: Network, number: int, other: int, person: str) -> str:
    name = next(one.name for one in network.plan.people if one.id == person) or person
    ours = network.nodes[number].works[0].job.build
    theirs = network.nodes[other].works[0].job.build
    ranks = {one.id: (one.rank, one.name or one.id) for one in network.plan.builds}
    sentence = f"{name} is on {_name(network, other)} until then"
    if ours in ranks and theirs in ranks and ranks[theirs][0] < ranks[ours][0]:
        return f"{sentence}, for {ranks[theirs][1]}, which comes first."
    return f"{sentence}."


def _same_place(network: Network, number: int, other: int) -> str | None:
    ours = [use.place for one in network.nodes[number].works for use in one.job.places]
    theirs = {use.place for one in network.nodes[other].works for use in one.job.places}
    return next((place for place in ours if place in theirs), None)


def _place(network: Network, place: str) -> str:
    found = next(one for one in network.plan.places if one.id == place)
    return found.name or place


def _name(network: Network, number: int) -> str:
    job = network.nodes[number].works[0].job
    return f"“{job.title or job.id}”"
