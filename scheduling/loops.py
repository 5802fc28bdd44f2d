"""Rings: jobs that wait for each other, so that none of them can ever start.

fit ──► weld ──► plate
 ▲                 │
 └─────────────────┘
"""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Iterator, Mapping, Sequence
from heapq import heappop, heappush
from typing import TypeVar

import networkx as nx

Job = TypeVar("Job", bound=Hashable)
WaitsFor = Mapping[str, Sequence[str]]


def find_loop(waits_for: WaitsFor) -> tuple[str, ...] | None:
    """Return jobs that wait for each other in a ring, or None.

    Parameters
    ----------
    waits_for : mapping of str to sequence of str
        For each job, the jobs it waits for. Jobs named only as waited for count as
        waiting for nothing.

    Returns
    -------
    tuple of str or None
        In the order the work would go: the first comes before the second, and so
        on, and the last comes before the first again. The same links always give
        the same ring. A job that waits for itself is a ring of one.

    Notes
    -----
    O(jobs + links), no recursion. Rings lie in the strongly connected components
    of the links.

    References
    ----------
    Tarjan, R. E. (1972), Depth-first search and linear graph algorithms, SIAM
    Journal on Computing 1(2):146-160; with Nuutila's changes, as in networkx.
    Kahn, A. B. (1962), Topological sorting of large networks, Communications of the
    ACM 5(11):558-562 (from memory), to see first whether there is any.

    Examples
    --------
    >>> find_loop({"weld": ["fit"], "plate": ["weld"], "fit": ["plate"]})
    ('weld', 'plate', 'fit')
    >>> find_loop({"weld": ["fit"]}) is None
    True
    """
    return next(find_loops(waits_for), None)


def find_loops(waits_for: WaitsFor) -> Iterator[tuple[str, ...]]:
    """Yield one ring for every group of jobs that all wait for each other.

    Parameters
    ----------
    waits_for : mapping of str to sequence of str
        As for `find_loop`.

    Yields
    ------
    tuple of str
        The shortest ring through the group's first job, groups in the order in
        which their first job stands in `waits_for`.
    """
    for group in find_tangles(waits_for):
        yield _shortest_ring(waits_for, group[0])


def find_tangles(waits_for: WaitsFor) -> list[tuple[str, ...]]:
    """Return the groups of jobs in which each waits, in the end, for all the others.

    Parameters
    ----------
    waits_for : mapping of str to sequence of str
        As for `find_loop`.

    Returns
    -------
    list of tuple of str
        Jobs and groups in the order of `waits_for`; a job alone only if it waits
        for itself.
    """
    return [] if _can_be_done(waits_for) else _tangles(waits_for)


def _can_be_done(waits_for: WaitsFor) -> bool:
    """Return whether there is an order of work; far cheaper than naming the rings."""
    waiters = dict.fromkeys(waits_for, 0)
    for all_before in waits_for.values():
        for before in all_before:
            if before in waiters:
                waiters[before] += 1
    last_first = [job for job, count in waiters.items() if not count]
    for job in last_first:
        for before in waits_for[job]:
            if before in waiters:
                waiters[before] -= 1
                if not waiters[before]:
                    last_first.append(before)
    return len(last_first) == len(waiters)


def _tangles(waits_for: WaitsFor) -> list[tuple[str, ...]]:
    order = {job: number for number, job in enumerate(waits_for)}
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(waits_for)
    graph.add_edges_from(
        (job, before)
        for job, all_before in waits_for.items()
        for before in all_before
        if before in order
    )
    groups = [
        tuple(sorted(group, key=order.__getitem__))
        for group in nx.strongly_connected_components(graph)
        if len(group) > 1 or any(graph.has_edge(job, job) for job in group)
    ]
    return sorted(groups, key=lambda group: order[group[0]])


def in_order(waits_for: Mapping[Job, Sequence[Job]]) -> list[Job]:
    """Return jobs so that each follows all it waits for, else in the given order.

    Parameters
    ----------
    waits_for : mapping of job to sequence of jobs
        Without rings; every job named is a key.

    Notes
    -----
    O((jobs + links) log jobs): Kahn's algorithm; of the jobs that could be next, the
    first one in `waits_for` is.
    """
    jobs = list(waits_for)
    number = {job: place for place, job in enumerate(jobs)}
    after: list[list[int]] = [[] for _ in jobs]
    left = [0] * len(jobs)
    for place, all_before in enumerate(waits_for.values()):
        for before in set(all_before):
            after[number[before]].append(place)
            left[place] += 1
    free = [place for place, count in enumerate(left) if not count]
    order = []
    while free:
        place = heappop(free)
        order.append(jobs[place])
        for later in after[place]:
            left[later] -= 1
            if not left[later]:
                heappush(free, later)
    return order


def _shortest_ring(waits_for: WaitsFor, first: str) -> tuple[str, ...]:
    """Return the shortest ring through a job that is known to lie on one."""
    waiter: dict[str, str] = {}
    todo = deque([first])
    while first not in waiter:
        job = todo.popleft()
        for before in waits_for.get(job, ()):
            if before not in waiter:
                waiter[before] = job
                todo.append(before)
    ring = [first]
    while (job := waiter[ring[-1]]) != first:
        ring.append(job)
    return tuple(ring)
