"""What a job holds up: everything after it, and what it alone is in the way of."""

from __future__ import annotations

from dataclasses import dataclass

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from scheduling.network import Network
from scheduling.timeline import PER_DAY, PER_HOUR
from scheduling.work import HAND_KINDS

NOW = -1


@dataclass(frozen=True, slots=True)
class Holding:
    """Counts of open jobs after one job.

    `holds` all after it; `only_this` those no way from now avoids it to reach;
    `frees` those clear the moment it is finished; `held_hours` working hours of all
    held jobs at their expected length.
    """

    holds: int
    only_this: int
    frees: tuple[str, ...]
    held_hours: float


def open_graph(network: Network) -> nx.DiGraph[int]:
    """Return the graph of open jobs: left-out ones are passed through."""
    graph = network.graph()
    for number, node in enumerate(network.nodes):
        if node.gone:
            before, after = (
                list(graph.predecessors(number)),
                list(graph.successors(number)),
            )
            graph.remove_node(number)
            graph.add_edges_from((one, other) for one in before for other in after)
    return graph


def holdings(network: Network) -> dict[str, Holding]:
    """Return what every open job holds up.

    Returns
    -------
    dict
        By job id; left-out jobs are not in it.

    Notes
    -----
    Descendants by bit sets over a topological order; `only_this` by dominators from
    a virtual "now": in that order a node's is where those before it meet (Cooper,
    Harvey & Kennedy 2001, A simple, fast dominance algorithm, from memory).
    """
    graph = open_graph(network)
    order = [number for number in range(len(network.nodes)) if number in graph]
    held = _held_sets(graph, order)
    size = np.array([len(node.ids) for node in network.nodes], dtype=np.float64)
    hours = np.array([_hours(network, one) for one in range(len(network.nodes))])
    alone = _dominated(graph, order, size)
    found: dict[str, Holding] = {}
    for number in order:
        later = _members(held[number], len(size))
        frees = [
            job
            for after in graph.successors(number)
            if len(graph.pred[after]) == 1
            for job in network.nodes[after].ids
        ]
        holding = Holding(
            int(size @ later), alone[number], tuple(frees), float(hours @ later)
        )
        found.update(dict.fromkeys(network.nodes[number].ids, holding))
    return found


def _held_sets(graph: nx.DiGraph[int], order: list[int]) -> dict[int, int]:
    held: dict[int, int] = {}
    for number in reversed(order):
        bits = 0
        for after in graph.successors(number):
            bits |= held[after] | (1 << after)
        held[number] = bits
    return held


def _members(bits: int, count: int) -> NDArray[np.uint8]:
    raw = np.frombuffer(bits.to_bytes(count // 8 + 1, "little"), dtype=np.uint8)
    return np.unpackbits(raw, bitorder="little", count=count)


def _dominated(
    graph: nx.DiGraph[int], order: list[int], size: NDArray[np.float64]
) -> dict[int, int]:
    """Return how many jobs every way from now reaches only through each node."""
    parent, depth = {NOW: NOW}, {NOW: 0}
    for number in order:
        above, *others = graph.pred[number] or (NOW,)
        for other in others:
            while above != other:
                if depth[above] < depth[other]:
                    other = parent[other]
                else:
                    above = parent[above]
        parent[number], depth[number] = above, depth[above] + 1
    below = dict.fromkeys(parent, 0)
    for number in reversed(order):
        below[parent[number]] += below[number] + int(size[number])
    return below


def _hours(network: Network, number: int) -> float:
    total = 0.0
    for work in network.nodes[number].works:
        if work.job.kind in HAND_KINDS:
            total += work.length / PER_HOUR
        elif work.in_days:
            day = network.clocks.shop().day_hours[-7:].max() or PER_DAY
            total += work.length * float(day) / PER_HOUR
    return total
