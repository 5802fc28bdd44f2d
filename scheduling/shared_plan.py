"""One plan over all cars in which nobody and nothing is in two places.

Serial schedule generation (Kolisch 1996, EJOR 90:320-333, from memory): jobs are placed
one by one in a given order, each as early as links, people, places and slots allow.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from scheduling.bookings import Bookings
from scheduling.errors import Fault
from scheduling.network import Network, Node, slot_vendor
from scheduling.passes import asks, slot_start, unbroken_start, waited
from scheduling.short import no_room, no_slot, nobody
from scheduling.timeline import PER_DAY, TINY
from scheduling.work import Team, Work, needs_hands
from scheduling.working_time import Clock

TRIES = 2000


@dataclass(slots=True)
class SharedPlan:
    """Start, finish (quarters) and team of every node; faults say what had to give.

    `cost` is as `wishes.cost_of` gives it, `bound` a cost no plan can be below, and
    `schedules` how many plans were made to find this one.
    """

    start: list[float]
    finish: list[float]
    team: list[Team]
    faults: list[Fault] = field(default_factory=list)
    cost: tuple[int, int, int] = (0, 0, 0)
    bound: tuple[int, int, int] = (0, 0, 0)
    status: str = ""
    schedules: int = 0


@dataclass(frozen=True, slots=True)
class Span:
    """The earliest start, and the finish that links to a finish ask for."""

    ready: float
    ends: float


@dataclass(frozen=True, slots=True)
class Offer:
    """A way to do one node."""

    finish: float
    start: float
    team: Team


def serial_plan(network: Network, priority: Sequence[float]) -> SharedPlan:
    """Return the plan that serial generation gives for one priority order.

    Parameters
    ----------
    network : Network
    priority : sequence of float, one per node
        The smallest goes first among nodes with nothing unplaced before them; ties
        by node number. Work under way is placed before all else, from now.

    Notes
    -----
    O(nodes x teams x tries). Starts and finishes are whole quarters.
    """
    count = len(network.nodes)
    shared = SharedPlan([0.0] * count, [0.0] * count, [()] * count)
    capacity = {place.id: place.capacity for place in network.plan.places}
    bookings = Bookings(capacity)
    left = [len({arc.before for arc in node.before}) for node in network.nodes]
    ready = [_turn(network, priority, n) for n in range(count) if not left[n]]
    heapq.heapify(ready)
    while ready:
        number = heapq.heappop(ready)[-1]
        _settle(network, shared, bookings, number)
        for after in {arc.before for arc in network.nodes[number].after}:
            left[after] -= 1
            if not left[after]:
                heapq.heappush(ready, _turn(network, priority, after))
    return shared


def _turn(
    network: Network, priority: Sequence[float], number: int
) -> tuple[bool, float, int]:
    return not network.nodes[number].begun, priority[number], number


def _settle(
    network: Network, shared: SharedPlan, bookings: Bookings, number: int
) -> None:
    node = network.nodes[number]
    earliest = node.release
    for arc in node.before:
        asked = asks(
            network, node, arc, shared.start[arc.before], shared.finish[arc.before]
        )
        earliest = max(earliest, asked)
    span = Span(_whole(earliest), _whole(_latest_by(network, shared, node)))
    offer = _best(network, node, bookings, span, shared.faults)
    shared.start[number], shared.finish[number] = offer.start, offer.finish
    shared.team[number] = offer.team
    places = () if node.gone else node.uses
    bookings.take(offer.team, places, offer.start, offer.finish)
    vendor = slot_vendor(network, node)
    if vendor:
        bookings.take_slot(vendor, int(offer.start // PER_DAY))


def _latest_by(network: Network, shared: SharedPlan, node: Node) -> float:
    """Return the finish that links to a finish ask for."""
    asked = [
        waited(network, shared.finish[arc.before], arc)
        for arc in node.before
        if arc.kind == "by"
    ]
    return max(asked, default=0.0)


def _best(
    network: Network, node: Node, bookings: Bookings, span: Span, faults: list[Fault]
) -> Offer:
    work, ready = node.work, span.ready
    if node.gone or work.length <= TINY or work.promise:
        done = max(one.finish(ready) for one in node.works)
        return Offer(max(done, span.ends), ready, ())
    vendor = slot_vendor(network, node)
    if vendor:
        return _slotted(network, node, bookings, span, faults)
    offers = [
        _offer(network, node, bookings, span, team) for team in work.teams or ((),)
    ]
    if needs_hands(work.job) and not work.teams:
        faults.append(nobody(work))
    found = [offer for offer in offers if offer]
    if found:
        return min(found, key=lambda offer: (offer.finish, work.teams.index(offer.team))
                   if work.teams else (offer.finish, 0))  # fmt: skip
    faults.append(no_room(work))
    start = work.clock.opening(ready)
    return Offer(max(_whole(work.finish(start)), span.ends), start, ())


def _offer(
    network: Network, node: Node, bookings: Bookings, span: Span, team: Team
) -> Offer | None:
    """Return the earliest way for one team, or None if there is no such time."""
    work = node.work
    clock = work.clock_of(team)
    if not clock.ever_open:
        return None
    length = work.length * pace_of(network, work, team)
    moment = span.ready
    for _ in range(TRIES):
        start = _begin(work, node, clock, moment, length)
        if start is None:
            return None
        done = [_whole(_done(one, clock, start, length)) for one in node.works]
        finish = max(span.ends, *done)
        again = _taken(bookings, team, node, start, finish)
        if again is None:
            return Offer(finish, start, team)
        moment = again
    return None


def _done(work: Work, clock: Clock, start: float, length: float) -> float:
    return clock.add(start, length) if work.teams else work.finish(start)


def _begin(
    work: Work, node: Node, clock: Clock, moment: float, length: float
) -> float | None:
    if work.job.unbroken and not node.begun and not work.in_days:
        return unbroken_start(clock, moment, length)
    return clock.opening(moment)


def _taken(
    bookings: Bookings, team: Team, node: Node, start: float, finish: float
) -> float | None:
    again = [bookings.person_free_after(person, start, finish) for person in team]
    again += [bookings.place_free_after(use, start, finish) for use in node.uses]
    later = [moment for moment in again if moment is not None]
    return max(later) if later else None


def _slotted(
    network: Network, node: Node, bookings: Bookings, span: Span, faults: list[Fault]
) -> Offer:
    """Return the first slot that is free when its places are, else the first ready."""
    vendor, clock = node.by_slot or "", node.work.clock
    days, ready = network.slots[vendor], clock.opening(span.ready)
    for day in days:
        if day * PER_DAY + PER_DAY > ready and not bookings.slot_taken(vendor, day):
            offer = _in_slot(
                node, max(clock.opening(float(day * PER_DAY)), ready), span
            )
            if _taken(bookings, (), node, offer.start, offer.finish) is None:
                return offer
    faults.append(no_slot(node.work))
    return _in_slot(node, slot_start(days, clock, ready), span)


def _in_slot(node: Node, start: float, span: Span) -> Offer:
    finish = max(_whole(one.finish(start)) for one in node.works)
    return Offer(max(finish, span.ends), start, ())


def pace_of(network: Network, work: Work, team: Team) -> float:
    """Return by how much a team's hours are multiplied: the slowest of them counts."""
    trade = work.job.trade or ""
    return max([network.paces[one].get(trade, 1.0) for one in team], default=1.0)


def _whole(quarter: float) -> float:
    return float(math.ceil(quarter - TINY))
