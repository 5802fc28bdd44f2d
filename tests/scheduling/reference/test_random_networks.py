"""200 random networks against networkx's longest paths and plain brute force."""

import networkx as nx
import numpy as np
import pytest

from tests.scheduling.reference.cases import NOW, answered, fixed, hours_after, written

BATCHES, PER_BATCH = 20, 10


def random_network(rng):
    """Return a directed acyclic graph; each node has a whole number of hours."""
    size = int(rng.integers(5, 61))
    graph = nx.DiGraph()
    for node in range(size):
        graph.add_node(f"n{node}", hours=int(rng.integers(1, 30)))
    odds = rng.uniform(0.3, 3.0) / size
    for later in range(1, size):
        for earlier in range(later):
            if rng.random() < odds:
                graph.add_edge(f"n{earlier}", f"n{later}")
    return graph


def plan_of(graph, rng):
    """Return the plan file, its jobs in a shuffled order."""
    jobs = [
        {
            "id": node,
            "estimate": fixed(graph.nodes[node]["hours"]),
            "after": sorted(graph.predecessors(node)),
        }
        for node in graph
    ]
    rng.shuffle(jobs)
    return {"now": written(NOW), "jobs": jobs}


@pytest.fixture(scope="module", params=range(BATCHES))
def cases(request):
    rng = np.random.default_rng(2000 + request.param)
    graphs = [random_network(rng) for _ in range(PER_BATCH)]
    return [
        (graph, answered(plan_of(graph, rng), samples=20, schedules=1))
        for graph in graphs
    ]


def weighted(graph):
    """Return arcs that weigh their first job's hours, closed by source and sink."""
    arcs = nx.DiGraph()
    arcs.add_weighted_edges_from(
        (one, other, graph.nodes[one]["hours"]) for one, other in graph.edges
    )
    for node in graph:
        arcs.add_edge("now", node, weight=0)
        arcs.add_edge(node, "end", weight=graph.nodes[node]["hours"])
    return arcs


def longest(arcs):
    return nx.dag_longest_path_length(arcs, weight="weight")


def through(arcs, node):
    """Return (longest path to a node, longest path from it to the end)."""
    before = arcs.subgraph(nx.ancestors(arcs, node) | {node})
    beyond = arcs.subgraph(nx.descendants(arcs, node) | {node})
    return longest(before), longest(beyond)


def test_length_starts_and_floats_are_longest_paths(cases):
    for graph, result in cases:
        arcs = weighted(graph)
        length = longest(arcs)
        assert result["duration_hours"] == pytest.approx(length)
        starts, rests = {}, {}
        for node in graph:
            starts[node], rests[node] = through(arcs, node)
        for node, job in result["jobs"].items():
            hours = graph.nodes[node]["hours"]
            total = length - starts[node] - rests[node]
            next_start = min(
                (starts[after] for after in graph.successors(node)), default=length
            )
            free = next_start - starts[node] - hours
            assert hours_after(job["early_start"]) == starts[node]
            assert hours_after(job["early_finish"]) == starts[node] + hours
            assert hours_after(job["late_finish"]) == starts[node] + hours + total
            assert job["total_float_hours"] == pytest.approx(total)
            assert job["free_float_hours"] == pytest.approx(free)
            assert job["critical"] == (total == 0)


def test_critical_path_is_a_longest_path(cases):
    for graph, result in cases:
        path = result["critical_path"]
        assert nx.is_path(graph, path)
        hours = sum(graph.nodes[node]["hours"] for node in path)
        assert hours == longest(weighted(graph))


def test_holds_counts_descendants(cases):
    for graph, result in cases:
        expected = {node: len(nx.descendants(graph, node)) for node in graph}
        assert {node: job["holds"] for node, job in result["jobs"].items()} == expected


def test_held_hours_add_up_the_descendants(cases):
    for graph, result in cases:
        for node, job in result["jobs"].items():
            after = nx.descendants(graph, node)
            hours = sum(graph.nodes[one]["hours"] for one in after)
            assert job["held_hours"] == pytest.approx(hours)


def test_only_this_by_deleting_each_job(cases):
    """A job counts when it cannot be reached from now once this one is deleted."""
    for graph, result in cases:
        front = [node for node in graph if not graph.in_degree(node)]
        rooted = graph.copy()
        rooted.add_edges_from(("now", node) for node in front)
        for node, job in result["jobs"].items():
            left = rooted.copy()
            left.remove_node(node)
            reached = nx.descendants(left, "now")
            assert job["only_this"] == len(graph) - 1 - len(reached), node


def test_frees_names_jobs_that_wait_for_nothing_else(cases):
    for graph, result in cases:
        for node, job in result["jobs"].items():
            freed = [
                after for after in graph.successors(node) if graph.in_degree(after) == 1
            ]
            assert sorted(job["frees"]) == sorted(freed)


def test_blocking_ranks_every_job_that_waits_for_nothing(cases):
    for graph, result in cases:
        front = {node for node in graph if not graph.in_degree(node)}
        ranked = result["blocking"]
        listed = {row["job"] for row in ranked}
        assert listed <= front
        most = max(len(nx.descendants(graph, node)) for node in front)
        if most:
            assert ranked[0]["holds"] == most
        holds = [row["holds"] for row in ranked]
        assert holds == sorted(holds, reverse=True)
