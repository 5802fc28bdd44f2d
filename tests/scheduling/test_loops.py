"""Rings are found, named in the order of the work, and never cost a recursion."""

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from scheduling.loops import find_loop, find_loops, find_tangles, in_order

few_jobs = st.sampled_from("abcdefgh")
some_links = st.dictionaries(few_jobs, st.lists(few_jobs, max_size=4))


def chain(length):
    return {f"j{n}": [f"j{n - 1}"] if n else [] for n in range(length)}


def test_the_first_job_of_the_ring_comes_before_the_second():
    """weld waits for fit, plate for weld, fit for plate: weld, then plate, then fit."""
    waits = {"weld": ["fit"], "plate": ["weld"], "fit": ["plate"]}
    assert find_loop(waits) == ("weld", "plate", "fit")


def test_a_job_that_waits_for_itself_is_a_ring_of_one():
    assert find_loop({"a": ["b"], "b": ["b"]}) == ("b",)


def test_two_ways_to_the_same_job_are_no_ring():
    assert find_loop({"d": ["b", "c"], "b": ["a"], "c": ["a"], "a": []}) is None


def test_a_job_that_is_only_waited_for_needs_no_entry():
    assert find_loop({"a": ["bought elsewhere"]}) is None
    assert find_loop({}) is None


def test_jobs_beside_the_ring_are_not_named():
    waits = {"before": [], "a": ["before", "b"], "b": ["a"], "behind": ["b"]}
    assert find_loop(waits) == ("a", "b")


def test_every_separate_ring_is_found_once_in_file_order():
    waits = {"x": ["y"], "a": ["b", "c"], "b": ["a"], "c": ["a"], "y": ["x"]}
    assert list(find_loops(waits)) == [("x", "y"), ("a", "b")]
    assert find_tangles(waits) == [("x", "y"), ("a", "b", "c")]


def test_a_chain_of_5000_jobs_and_20000_links_has_no_ring():
    waits = {
        f"j{n}": [f"j{n - k}" for k in (1, 2, 3, 5) if n >= k] for n in range(5000)
    }
    assert find_loop(waits) is None


def test_a_ring_of_5000_is_named_from_its_first_job_on():
    waits = chain(5000)
    waits["j0"] = ["j4999"]
    assert find_loop(waits) == tuple(f"j{n}" for n in range(5000))


@given(some_links)
def test_it_finds_a_ring_exactly_when_networkx_sees_no_order(waits):
    """Against networkx's own is_directed_acyclic_graph."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_edges_from((one, job) for job, before in waits.items() for one in before)
    ring = find_loop(waits)
    assert (ring is None) == nx.is_directed_acyclic_graph(graph)
    if ring:
        following = (*ring[1:], ring[0])
        assert all(
            one in waits[after] for one, after in zip(ring, following, strict=True)
        )
        assert len(set(ring)) == len(ring)
        assert find_loop(dict(waits)) == ring


@given(links=st.dictionaries(st.integers(0, 30), st.sets(st.integers(0, 30))))
def test_the_order_is_the_one_networkx_gives(links):
    """`networkx.lexicographical_topological_sort` on the same links."""
    jobs = [(7 * number) % 31 for number in range(31)]
    place = {job: number for number, job in enumerate(jobs)}
    waits = {
        job: sorted(
            one for one in links.get(job, ()) if place[one] % 13 < place[job] % 13
        )
        for job in jobs
    }
    graph = nx.DiGraph()
    graph.add_nodes_from(jobs)
    graph.add_edges_from((one, job) for job, found in waits.items() for one in found)
    expected = nx.lexicographical_topological_sort(graph, key=place.__getitem__)
    assert in_order(waits) == list(expected)
