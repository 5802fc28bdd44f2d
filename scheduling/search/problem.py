"""From a network and its wishes to the arrays that compiled code reads."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from scheduling.clock_tables import ClockTables
from scheduling.network import Network, Node, slot_vendor
from scheduling.search.arrays import (
    AFTER,
    AT_ONCE,
    BY,
    BY_HANDS,
    DAYS,
    IN_SLOT,
    PROMISED,
    QUARTERS,
    WITH,
    Ints,
    Problem,
    Table,
    begins,
    table,
)
from scheduling.search.hours import hours_of
from scheduling.shared_plan import pace_of
from scheduling.timeline import TINY
from scheduling.wishes import Following, Wishes
from scheduling.work import Team, Work, needs_hands
from scheduling.working_time import Clock

KINDS = {"after": AFTER, "with": WITH, "by": BY}
ELSEWHERE = -2  # hands that no team of the job has


@dataclass(slots=True)
class Reading:
    """A network's clocks, teams and people, numbered as they are met."""

    network: Network
    clocks: list[ClockTables] = field(default_factory=list)
    number: dict[int, int] = field(default_factory=dict)
    people: dict[str, int] = field(default_factory=dict)
    teams: list[list[tuple[Team, Clock, float]]] = field(default_factory=list)

    def clock(self, clock: ClockTables) -> int:
        """Return the number of a clock."""
        if id(clock) not in self.number:
            self.number[id(clock)] = len(self.clocks)
            self.clocks.append(clock)
        return self.number[id(clock)]


def problem_of(
    network: Network, wishes: Wishes, following: Following | None = None
) -> tuple[Problem, list[Team]]:
    """Return a planning problem in arrays, and the team behind each team number."""
    reading = Reading(network)
    reading.people = {one.id: n for n, one in enumerate(network.plan.people)}
    reading.teams = [_teams(network, node) for node in network.nodes]
    shop = reading.clock(network.clocks.shop())
    task, arc, after, work = _nodes(reading)
    team, member, use = _hands(reading)
    every = (*wishes.dated, *wishes.soon)
    slots = [network.slots.get(vendor.id, ()) for vendor in network.plan.vendors]
    old = _followed_all(reading, following)
    task["old_from"] = begins([len(found) for found in old])
    problem = Problem(
        nodes=len(network.nodes),
        shop=shop,
        now=wishes.now,
        dated=len(wishes.dated),
        task=task,
        arc=arc,
        after=after,
        work=work,
        team=team,
        member=member,
        use=use,
        capacity=_ints(place.capacity for place in network.plan.places),
        slot_from=_ints(begins([len(days) for days in slots])),
        slot_day=_ints(day for days in slots for day in days),
        wish=table(
            {
                "move_in": [wish.move_in or 0 for wish in every],
                "weight": [wish.weight for wish in every],
                "end_from": begins([len(wish.ends) for wish in every]),
            },
            len(every),
        ),
        end=_ints(number for wish in every for number in wish.ends),
        old=_rows(["start", "team"], [one for found in old for one in found]),
        hours=hours_of(tuple(reading.clocks)),
    )
    return problem, [team for found in reading.teams for team, _, _ in found]


def _teams(network: Network, node: Node) -> list[tuple[Team, Clock, float]]:
    """Return the ways to man a node: hands, their clock, and what it takes them."""
    work = node.work
    if _how(network, node) != BY_HANDS:
        return []
    found: list[tuple[Team, Clock, float]] = []
    for team in work.teams or ((),):
        clock = work.clock_of(team)
        if clock.ever_open:
            found.append((team, clock, work.length * pace_of(network, work, team)))
    return found


def _how(network: Network, node: Node) -> int:
    work = node.work
    if node.gone or work.length <= TINY or work.promise:
        return AT_ONCE
    return IN_SLOT if slot_vendor(network, node) else BY_HANDS


def _nodes(reading: Reading) -> tuple[Table, Table, Ints, Table]:
    nodes = reading.network.nodes
    later = [sorted({arc.before for arc in node.after}) for node in nodes]
    works = [work for node in nodes for work in node.works]
    leads = [node.work for node in nodes]
    vendors = {one.id: n for n, one in enumerate(reading.network.plan.vendors)}
    slots = [slot_vendor(reading.network, node) for node in nodes]
    unbroken = [
        work.job.unbroken and not node.begun and not work.in_days
        for node, work in zip(nodes, leads, strict=True)
    ]
    task = table(
        {
            "begun": [node.begun for node in nodes],
            "how": [_how(reading.network, node) for node in nodes],
            "unbroken": unbroken,
            "release_": [node.release for node in nodes],
            "waits": [len({arc.before for arc in node.before}) for node in nodes],
            "lead_clock": [reading.clock(work.clock) for work in leads],
            "lead_length_": [work.length for work in leads],
            "lead_days": [work.in_days for work in leads],
            "by_hands": [_by_hands(work) for work in leads],
            "vendor": [vendors[slot] if slot else -1 for slot in slots],
            "arc_from": begins([len(node.before) for node in nodes]),
            "after_from": begins([len(found) for found in later]),
            "work_from": begins([len(node.works) for node in nodes]),
            "team_from": begins([len(found) for found in reading.teams]),
            "use_from": begins([len(_uses(node)) for node in nodes]),
            "old_from": [0],
        },
        len(nodes),
    )
    arc = _rows(
        ["before", "kind", "wait_", "days_"],
        [
            (arc.before, KINDS[arc.kind], arc.wait, arc.wait_days)
            for node in nodes
            for arc in node.before
        ],
    )
    work = _rows(
        ["kind", "clock", "length_", "due_"],
        [
            (
                _kind(one),
                reading.clock(one.clock),
                one.length,
                one.promise.due if one.promise else 0.0,
            )
            for one in works
        ],
    )
    return task, arc, _ints(number for found in later for number in found), work


def _by_hands(work: Work) -> int:
    """Return 1 with hands to choose from, 0 with none wanted, -1 with none to find."""
    return 1 if work.teams else -int(needs_hands(work.job))


def _hands(reading: Reading) -> tuple[Table, Ints, Table]:
    teams = [team for found in reading.teams for team in found]
    places = {place.id: n for n, place in enumerate(reading.network.plan.places)}
    team = table(
        {
            "clock": [reading.clock(clock) for _, clock, _ in teams],
            "length_": [length for _, _, length in teams],
            "member_from": begins([len(team) for team, _, _ in teams]),
        },
        len(teams),
    )
    member = _ints(reading.people[one] for team, _, _ in teams for one in team)
    uses = [use for node in reading.network.nodes for use in _uses(node)]
    use = _rows(["place", "units"], [(places[one], units) for one, units in uses])
    return team, member, use


def _rows(names: Sequence[str], rows: Sequence[Sequence[float]]) -> Table:
    columns = {name: [row[k] for row in rows] for k, name in enumerate(names)}
    return table(columns, len(rows))


def _uses(node: Node) -> list[tuple[str, int]]:
    if node.gone:
        return []
    return [(use.place, use.uses) for use in node.uses]


def _kind(work: Work) -> int:
    if work.promise:
        return PROMISED
    return DAYS if work.in_days else QUARTERS


def _followed_all(
    reading: Reading, following: Following | None
) -> list[list[tuple[int, int]]]:
    nodes = reading.network.nodes
    first = begins([len(found) for found in reading.teams])
    return [
        _followed(node, following, found, at)
        for node, found, at in zip(nodes, reading.teams, first, strict=False)
    ]


def _followed(
    node: Node,
    following: Following | None,
    teams: list[tuple[Team, Clock, float]],
    first: int,
) -> list[tuple[int, int]]:
    """Return the start and team number each job of a node has in the plan followed."""
    if following is None or node.begun or node.gone:
        return []
    found = []
    for job in node.ids:
        if job in following.start:
            who = sorted(following.who.get(job, ()))
            team = ELSEWHERE if who else -1
            for number, (one, _, _) in enumerate(teams, start=first):
                if sorted(one) == who:
                    team = number
                    break
            found.append((following.start[job], team))
    return found


def _ints(values: Iterable[int | bool]) -> Ints:
    return np.array([int(value) for value in values], dtype=np.int64)
