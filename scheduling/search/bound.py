"""A cost no plan can be below: the critical path, and the hours there are.

All work that only some people can do, or that needs one place, has to fit in the
hours those people or that place have from now on (an energy bound).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from scheduling.network import Network, Node
from scheduling.shared_plan import pace_of
from scheduling.timeline import TINY
from scheduling.wishes import Cost, Wish, Wishes, whole
from scheduling.working_time import Clock

Needs = tuple[tuple[str, int], ...]  # who or what, and how many units


@dataclass(frozen=True, slots=True)
class Load:
    """One way to do a node: quarters of work, and the resources it takes."""

    quarters: float
    needs: Needs


@dataclass(frozen=True, slots=True)
class Pool:
    """People, or one place, and their clocks (a place of three counts three times)."""

    names: frozenset[str]
    clocks: tuple[Clock, ...]

    def full(self, done: float, energy: float, soonest: float) -> float:
        """Return the first moment by which all of them can have worked `energy`.

        On top of what is `done`; none before `soonest` is looked for.
        """
        wanted = energy - TINY + done
        if self.worked(soonest) >= wanted:
            return soonest
        low, high = soonest, soonest + 1.0
        while self.worked(high) < wanted:
            low, high = high, soonest + 2 * (high - soonest)
        while high - low > 1.0:
            middle = (low + high) // 2
            if self.worked(middle) < wanted:
                low = middle
            else:
                high = middle
        return high

    def worked(self, moment: float) -> float:
        """Return the quarters all of them together can work before a moment."""
        return sum([clock.worked(moment) for clock in self.clocks])


def least_ends(
    network: Network, early: Sequence[float], wishes: Wishes
) -> dict[Wish, int]:
    """Return for each wish a whole quarter before which it cannot be met.

    Parameters
    ----------
    early : sequence of float
        Earliest finish of every node by its links and hours alone.
    """
    ways = [tuple(_ways(network, node)) for node in network.nodes]
    firsts = _by_name(ways)
    asked = [
        (pool, pool.worked(network.now), _asked(ways, firsts, pool))
        for pool in _pools(network, ways)
    ]
    found: dict[Wish, int] = {}
    for wish in (*wishes.dated, *wishes.soon):
        needed = network.ancestors(wish.ends)
        soonest = max(whole(early[n]) for n in wish.ends)
        for pool, done, energies in asked:
            energy = sum([energies[n] for n in needed if n in energies])
            if energy > TINY:
                soonest = whole(pool.full(done, energy, float(soonest)))
        found[wish] = soonest
    return found


def least_cost(wishes: Wishes, ends: dict[Wish, int]) -> Cost:
    """Return the cost if every wish were met at its earliest."""
    late = sum(
        one.weight * max(0, ends[one] - (one.move_in or 0)) for one in wishes.dated
    )
    soon = sum(one.weight * (ends[one] - wishes.now) for one in wishes.soon)
    return late, soon, 0


def _ways(network: Network, node: Node) -> Iterator[Load]:
    work = node.work
    if node.gone or work.length <= TINY or work.promise or work.in_days:
        return
    places = tuple((f"place:{use.place}", use.uses) for use in work.job.places)
    if work.runs_on:  # through the place's closed hours, which its clock leaves out
        places = ()
    for team in work.teams or ((),):
        hands = tuple((f"person:{one}", 1) for one in team)
        yield Load(work.length * pace_of(network, work, team), hands + places)


def _pools(network: Network, ways: Iterable[tuple[Load, ...]]) -> Iterator[Pool]:
    groups: set[frozenset[str]] = set()
    for loads in ways:
        for load in loads:
            groups.update(frozenset({name}) for name, _ in load.needs)
        people = {n for load in loads for n, _ in load.needs if n.startswith("person:")}
        if people:
            groups.add(frozenset(people))
    room = {f"place:{place.id}": place.capacity for place in network.plan.places}
    for names in sorted(groups, key=sorted):
        clocks = [
            network.clocks.of(frozenset({name}))
            for name in sorted(names)
            for _ in range(room.get(name, 1))
        ]
        if clocks and all(clock.ever_open for clock in clocks):
            yield Pool(names, tuple(clocks))


def _by_name(ways: Sequence[tuple[Load, ...]]) -> dict[str, list[int]]:
    """Return the nodes whose first way takes a resource, by its name."""
    found: dict[str, list[int]] = {}
    for number, loads in enumerate(ways):
        for name in {name for load in loads[:1] for name, _ in load.needs}:
            found.setdefault(name, []).append(number)
    return found


def _asked(
    ways: Sequence[tuple[Load, ...]], firsts: dict[str, list[int]], pool: Pool
) -> dict[int, float]:
    """Return the least each node asks of a pool, where it asks for any.

    A node whose first way takes nothing of a pool asks it for nothing.
    """
    able = sorted({n for name in pool.names for n in firsts.get(name, ())})
    asked = {n: min(_energy(load, pool) for load in ways[n]) for n in able}
    return {n: least for n, least in asked.items() if least > 0.0}


def _energy(load: Load, pool: Pool) -> float:
    return load.quarters * sum(
        [units for name, units in load.needs if name in pool.names]
    )
