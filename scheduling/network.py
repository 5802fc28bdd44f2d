"""Live jobs and their links as a graph, consignments gathered into one node each.

    clear ──► weld ──► fit ──┐
                             ├─► [plate a | plate b]  one node: go and return together
    clear ──► make ──────────┘

networkx does the graph work; nodes are numbered in a repeatable topological order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import networkx as nx

from scheduling.calendars import Clocks
from scheduling.errors import CycleError
from scheduling.loops import find_loop, in_order
from scheduling.node import Arc as Arc
from scheduling.node import Node as Node
from scheduling.plan import Job, Link, Plan
from scheduling.timeline import PER_HOUR
from scheduling.work import begun, work_of


@dataclass
class Network:
    """Nodes in topological order; `index` finds the node of a job that is not done."""

    plan: Plan
    clocks: Clocks
    now: float
    nodes: list[Node]
    index: dict[str, int]
    slots: dict[str, tuple[int, ...]] = field(default_factory=dict)

    @cached_property
    def jobs(self) -> dict[str, Job]:
        """Return every job of the plan by id."""
        return {job.id: job for job in self.plan.jobs}

    @cached_property
    def paces(self) -> dict[str, Mapping[str, float]]:
        """Return everybody's pace by trade."""
        return {person.id: person.pace for person in self.plan.people}

    @cached_property
    def in_use(self) -> Counter[str]:
        """Return how much of each place jobs under way take up."""
        taken: Counter[str] = Counter()
        busy = [job for job in self.plan.jobs if job.state == "under way"]
        for use in (use for job in busy for use in job.places):
            taken[use.place] += use.uses
        return taken

    def graph(self) -> nx.DiGraph[int]:
        """Return the arcs between nodes as a networkx graph."""
        graph: nx.DiGraph[int] = nx.DiGraph()
        graph.add_nodes_from(range(len(self.nodes)))
        for number, node in enumerate(self.nodes):
            graph.add_edges_from((arc.before, number) for arc in node.before)
        return graph

    def ancestors(self, targets: Iterable[int]) -> set[int]:
        """Return the targets and everything they wait for."""
        found: set[int] = set()
        todo = list(targets)
        while todo:
            number = todo.pop()
            if number not in found:
                found.add(number)
                todo.extend(arc.before for arc in self.nodes[number].before)
        return found


def build_network(plan: Plan, clocks: Clocks) -> Network:
    """Return the network of every job that is not done.

    Raises
    ------
    CycleError
        Jobs wait for each other in a ring; names them in order.

    Notes
    -----
    O(jobs + links). Done jobs are history: they only hold what follows them for as
    long as a wait on the link runs. A commitment also waits for every open check
    before it, however it is linked.
    """
    now = clocks.timeline.quarter(plan.now)
    live = {job.id: job for job in plan.jobs if job.state != "done"}
    groups = _groups(plan, live)
    home = {job: lead for lead, members in groups.items() for job in members}
    links = {job.id: _live_links(job) for job in live.values()}
    waits = {
        lead: [
            home[link.job] for job in members for link in links[job] if link.job in live
        ]
        for lead, members in groups.items()
    }
    loop = find_loop(waits)
    if loop:
        raise CycleError(loop)
    order = in_order(waits)
    number = {lead: position for position, lead in enumerate(order)}
    network = Network(plan, clocks, now, [], {})
    for lead in order:
        works = tuple(work_of(live[job], plan, clocks, now) for job in groups[lead])
        node = Node(works, max(work.release for work in works))
        for work in works:
            network.index[work.job.id] = len(network.nodes)
            for link in links[work.job.id]:
                _tie(network, node, link, number.get(home.get(link.job, "")))
        network.nodes.append(node)
    _leave_together(network)
    _commit_after_checks(network)
    _mirror(network)
    _find_slots(network)
    return network


def _groups(plan: Plan, live: dict[str, Job]) -> dict[str, tuple[str, ...]]:
    """Return node members by their first job; only parts still here travel together."""
    groups: dict[str, tuple[str, ...]] = {}
    together: set[str] = set()
    for consignment in plan.consignments:
        waiting = [
            job
            for job in consignment.jobs
            if job in live and live[job].state == "open" and not begun(live[job])
        ]
        if waiting:
            groups[waiting[0]] = tuple(waiting)
            together.update(waiting)
    for job in live:
        if job not in together:
            groups[job] = (job,)
    return groups


def _live_links(job: Job) -> tuple[Link, ...]:
    """Return the links that still hold a job; one begun no longer waits to start."""
    if begun(job):
        return tuple(link for link in job.after if link.kind == "by")
    return job.after


def _tie(network: Network, node: Node, link: Link, before: int | None) -> None:
    if before is not None:
        node.before.append(
            Arc(before, link.kind, link.wait_hours * PER_HOUR, link.wait_days)
        )
        return
    done = network.jobs[link.job]
    moment = done.started if link.kind == "with" else done.finished
    if moment is not None and link.kind != "by":
        since = network.clocks.timeline.quarter(moment) + link.wait_hours * PER_HOUR
        if link.wait_days:
            since = network.clocks.shop().add_days(max(since, 0.0), link.wait_days)
        node.release = max(node.release, since)


def _leave_together(network: Network) -> None:
    for consignment in network.plan.consignments:
        if consignment.leaves is None:
            continue
        leaves = network.clocks.timeline.quarter(consignment.leaves)
        for job in consignment.jobs:
            if job in network.index and not network.nodes[network.index[job]].begun:
                node = network.nodes[network.index[job]]
                node.release = max(node.release, leaves)


def _commit_after_checks(network: Network) -> None:
    """Hold every commitment for all checks before it, not only for its own links."""
    if all(arc.kind == "after" for node in network.nodes for arc in node.before):
        return
    for number, node in enumerate(network.nodes):
        if node.begun or not any(work.job.commitment for work in node.works):
            continue
        direct = {arc.before for arc in node.before if arc.kind == "after"}
        for before in sorted(network.ancestors([number]) - {number} - direct):
            if any(work.job.kind == "check" for work in network.nodes[before].works):
                node.before.append(Arc(before, "after"))


def _mirror(network: Network) -> None:
    for number, node in enumerate(network.nodes):
        for arc in node.before:
            network.nodes[arc.before].after.append(
                Arc(number, arc.kind, arc.wait, arc.wait_days)
            )


def _find_slots(network: Network) -> None:
    network.slots.update(slot_days(network.plan, network.clocks))


def slot_days(plan: Plan, clocks: Clocks) -> dict[str, tuple[int, ...]]:
    """Return the day numbers of every vendor's slots, by vendor."""
    found = {}
    for vendor in plan.vendors:
        if vendor.slots is None:
            continue
        clock = clocks.of(frozenset({f"vendor:{vendor.id}"}))
        days = clock.working_days[clock.working_days < clocks.timeline.days]
        first = (vendor.slots.first - clocks.timeline.origin).days
        every = vendor.slots.every_working_days
        found[vendor.id] = tuple(days[days >= first][::every].tolist())
    return found


def slot_vendor(network: Network, node: Node) -> str | None:
    """Return the vendor whose slot a node must catch, if any."""
    return node.by_slot if node.by_slot in network.slots else None
