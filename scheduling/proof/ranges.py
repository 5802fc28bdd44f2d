"""How early and how late every node can be: what keeps the problem small and exact.

Forward from now as the shared plan counts, without people and places in the way;
backward from the latest finishes that could still make a better plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from scheduling.network import Arc, Network, Node
from scheduling.proof.ways import Run, Way, ways_of
from scheduling.shared_plan import SharedPlan
from scheduling.soonest import first_way, floor_of, frozen
from scheduling.wishes import whole
from scheduling.work import Team

Stretch = tuple[int, int]


class NoWay(Exception):
    """A node has no way to be done in its range."""


@dataclass(frozen=True, slots=True)
class Near:
    """How far from a plan to look: starts, the latest finish, perhaps the same team."""

    first: int
    last: int
    ends: int
    team: Team | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """What is open about one node: its ways, and the range of its finish.

    `floor` is a finish a date promised asks for; `held` says that links or that date
    may keep it unfinished after its work is done.
    """

    ways: tuple[Way, ...]
    floor: int
    held: bool
    frozen: bool
    finish: Stretch

    @property
    def start(self) -> Stretch:
        """Return the earliest and the latest start."""
        runs = [run for way in self.ways for run in way.runs]
        return min(run.first for run in runs), max(run.last for run in runs)

    def length(self, start: int, team: Team) -> int:
        """Return the quarters of work, pauses included, from a start."""
        for way in self.ways:
            if team in way.teams:
                for run in way.runs:
                    if run.first <= start <= run.last:
                        return run.length
        raise NoWay


def choices(
    network: Network,
    shared: SharedPlan,
    soon: tuple[Sequence[int], Sequence[int]],
    latest: Mapping[int, int],
    near: Mapping[int, Near] | None = None,
) -> dict[int, Choice]:
    """Return what is open about every node that something is wanted of.

    Parameters
    ----------
    soon : lower bounds as `soonest` gives them
    latest : mapping of node to quarter
        The latest finishes worth looking at; nodes before them follow from their
        links. Nodes without any are left out.
    near : mapping of node to Near, optional
        Looks no further than this.

    Raises
    ------
    NoWay
        Some node cannot be fitted in.
    BeyondTables
        A finish worth looking at lies past the written calendars.
    """
    ends = dict(latest)
    begins: dict[int, int] = {}
    found: dict[int, Choice] = {}
    for number in range(len(network.nodes) - 1, -1, -1):
        node = network.nodes[number]
        if frozen(node):
            found[number] = _as_it_is(shared, number)
            continue
        if number not in ends and number not in begins:
            continue
        end = ends.get(number) or _freely(network, node, begins[number])
        last = min(begins.get(number, end), end)
        first = soon[0][number]
        teams = node.work.teams or ((),)
        if near and number in near:
            close = near[number]
            first, last = max(first, close.first), min(last, close.last)
            end = min(end, close.ends)
            teams = teams if close.team is None else (close.team,)
        held = any(arc.kind == "by" for arc in node.before) or bool(floor_of(node))
        ways = ways_of(network, node, teams, (first, last, end))
        if not ways or soon[1][number] > end:
            raise NoWay
        choice = Choice(ways, floor_of(node), held, False, (soon[1][number], end))
        found[number] = choice
        for arc in node.before:
            _hold(arc, choice, ends, begins)
    return dict(sorted(found.items()))


def _as_it_is(shared: SharedPlan, number: int) -> Choice:
    start, finish = whole(shared.start[number]), whole(shared.finish[number])
    ways = (Way((shared.team[number],), (Run(start, start, finish - start),)),)
    return Choice(ways, 0, False, True, (finish, finish))


def _hold(
    arc: Arc, choice: Choice, ends: dict[int, int], begins: dict[int, int]
) -> None:
    """Bring the node before an arc forward so that the one after it stays in range."""
    start, finish = choice.start[1], choice.finish[1]
    wait = whole(arc.wait)
    if arc.kind == "with":
        begins[arc.before] = min(begins.get(arc.before, start - wait), start - wait)
        return
    limit = (start if arc.kind == "after" else finish) - wait
    ends[arc.before] = min(ends.get(arc.before, limit), limit)


def _freely(network: Network, node: Node, begins: int) -> int:
    """Return the latest finish of a node that only its start is asked of."""
    found = [
        way[1]
        for team in node.work.teams or ((),)
        if (way := first_way(network, node, team, begins))
    ]
    opens = node.work.clock.opening(float(begins))
    return max([whole(node.work.finish(opens)), floor_of(node), *found])
