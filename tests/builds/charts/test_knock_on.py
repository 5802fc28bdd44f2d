"""The knock-on: left to right, nothing on top of anything, lines that go round."""

from datetime import datetime, timedelta
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from builds.charts import HeldJob, knock_on

NOW = datetime(2027, 1, 11, 8)


def job(at: int, after=(), **facts) -> HeldJob:
    start = NOW + timedelta(days=at)
    given = {"condition": "waiting", "start": start, "finish": start, "thread": None}
    return HeldJob(
        id=str(at), title=f"Job {at}", url=f"/{at}/", after=tuple(map(str, after)),
        **given | facts,
    )  # fmt: skip


some_links = st.lists(
    st.lists(st.integers(0, 30), min_size=0, max_size=3), min_size=1, max_size=30
)


@settings(max_examples=60, deadline=None)
@given(some_links)
def test_every_job_stands_right_of_what_it_waits_for(links):
    held = [
        job(at, {before % at for before in befores})
        for at, befores in enumerate(links, start=1)
    ]
    chart = knock_on(job(0), held)
    places = {node.job.id: node for node in chart.nodes}
    assert len({(node.column, node.lane) for node in chart.nodes}) == len(chart.nodes)
    assert chart.nodes[0].job.id == "0"
    assert (places["0"].column, places["0"].lane) == (0, 0)
    assert all(node.column > 0 for node in chart.nodes[1:])
    for one in held:
        for before in one.after:
            assert places[before].column < places[one.id].column
    for one, other in combinations(chart.nodes, 2):
        assert one.right <= other.x or other.right <= one.x or one.lane != other.lane
    assert all(
        node.x >= 0 and node.right <= chart.width and node.y + 38 <= chart.height
        for node in chart.nodes
    )


def test_a_plain_chain_is_one_straight_line():
    chart = knock_on(job(0), [job(1, [0]), job(2, [1]), job(3, [2])])
    assert {node.lane for node in chart.nodes} == {0}
    assert all("V" not in wire.path for wire in chart.wires)


def test_a_link_another_way_round_already_tells_is_not_drawn():
    # The transitive reduction of Aho, Garey and Ullman (1972): 0-1-2 makes 0-2 idle.
    chart = knock_on(job(0), [job(1, [0]), job(2, [0, 1])])
    assert len(chart.wires) == 2


def test_the_chain_is_heavy():
    held = [job(1, [0], thread=1), job(2, [0])]
    chart = knock_on(job(0, thread=0), held)
    assert sorted(wire.heavy for wire in chart.wires) == [False, True]


def test_the_list_says_the_same_in_order_of_time():
    chart = knock_on(job(0), [job(3, [1]), job(1, [0]), job(2, [0])])
    assert [node.job.id for node in chart.listed] == ["1", "2", "3"]
    assert chart.listed[2].waits_for == ("Job 1",)
    assert chart.sentence == "Job 0 holds up 3 jobs."


def test_a_job_that_holds_nothing():
    chart = knock_on(job(0), [])
    assert chart.wires == ()
    assert chart.sentence == "Job 0 holds up nothing."
