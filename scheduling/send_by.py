"""The last day something may leave that still keeps the wanted chance of the shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from scheduling.chances import Effort, Entry, chances, sent_together
from scheduling.goals import shows_ahead
from scheduling.network import Network
from scheduling.plan import Consignment, Plan
from scheduling.solve import pose

WANTED = 0.8
GIVEN_UP = 0.01  # of the chance, where the wanted one is not to be had at all
LOAD = "send by\0"  # no id in a file may hold this character


@dataclass(frozen=True, slots=True)
class SendBy:
    """The last day, and the chance of each show entry.

    `day` is None where no departure before the last show takes anything away, and
    where they are `late`: leaving together takes too much away on any day.
    """

    first: date
    day: date | None
    late: bool
    kept: Mapping[Entry, float]
    best: Mapping[Entry, float]
    after: Mapping[Entry, float]
    asked: int


def send_by(
    plan: Plan,
    jobs: tuple[str, ...],
    effort: Effort,
    best: Mapping[Entry, float],
    *,
    wanted: float = WANTED,
) -> SendBy:
    """Return the last departure that keeps the wanted chance.

    Parameters
    ----------
    jobs : ids of outside jobs for one vendor, none of which has left
    best : chance by show entry
        With each leaving on its own, as soon as it is ready.
    wanted : float
        Chance to keep for each show entry. Where `best` is less than that, `best` less
        0.01 is kept instead.

    Returns
    -------
    SendBy
        `kept`: leaving together on `day`; `after`: on the next day they take work.

    Notes
    -----
    A departure on each of the vendor's working days (its slots, or the days it runs
    the colour) to the last move-in is a candidate. The chance falls as it leaves
    later, on common random numbers, so the last good one is found by bisection: about
    log2 of the candidates askings. Our own rule.
    """
    first = chances(_leaving(plan, jobs, None), effort, jobs[:1])
    start = first.trips[jobs[0]].leaves.date()
    days = _days(plan, jobs, start)
    asked = 1
    found = {-1: first.entries}

    def at(number: int) -> Mapping[Entry, float]:
        nonlocal asked
        if number not in found:
            asked += 1
            leaving = _leaving(plan, jobs, days[number])
            found[number] = chances(leaving, effort).entries
        return found[number]

    def keeps(number: int) -> bool:
        return all(
            chance >= min(wanted, best[entry] - GIVEN_UP)
            for entry, chance in at(number).items()
        )

    if not keeps(-1):
        return SendBy(start, None, True, first.entries, best, {}, asked)
    last = len(days) - 1
    if keeps(last):
        return SendBy(start, None, False, at(last), best, {}, asked)
    low, high = -1, last
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if keeps(middle) else (low, middle)
    day = start if low < 0 else days[low]
    return SendBy(start, day, False, at(low), best, at(high), asked)


def _leaving(plan: Plan, jobs: tuple[str, ...], day: date | None) -> Plan:
    vendor = next(one.vendor for one in plan.jobs if one.id == jobs[0])
    leaves = None if day is None else datetime.combine(day, time())
    return sent_together(plan, (Consignment(LOAD, vendor or "", jobs, leaves),))


def _days(plan: Plan, jobs: tuple[str, ...], after: date) -> Sequence[date]:
    """Return the days after a first one on which the vendor takes these jobs in."""
    network = pose(plan).network
    job = network.jobs[jobs[0]]
    vendor = next(one for one in plan.vendors if one.id == job.vendor)
    if job.vendor in network.slots and job.slot:
        numbers = network.slots[vendor.id]
    else:
        clock = network.clocks.of(frozenset({f"vendor:{vendor.id}"}))
        numbers = tuple(clock.working_days.tolist())
    ends = [show.move_in.date() for show in shows_ahead(plan)]
    found = _dates(network, numbers, after, max(ends, default=after))
    run = vendor.batch.days.get(job.colour) if vendor.batch else None
    return [day for day in found if run is None or f"{day:%a}".lower() in run]


def _dates(
    network: Network, numbers: Sequence[int], after: date, last: date
) -> list[date]:
    origin = network.clocks.timeline.origin
    days = (origin + timedelta(days=int(number)) for number in numbers)
    return [day for day in days if after < day <= last]
