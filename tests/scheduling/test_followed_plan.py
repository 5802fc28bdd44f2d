"""The plan people follow, made again by compiled code and by plain generation."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

import scheduling
from builds.demo.plan import demo_plan
from scheduling.followed import followed_keys, followed_plan
from scheduling.network import Network, Node
from scheduling.plan import Plan
from scheduling.shared_plan import SharedPlan, serial_plan
from scheduling.wishes import Following
from tests.scheduling.examples import examples
from tests.scheduling.problems import keys, posed_problem
from tests.scheduling.strategies import valid_plans

some = examples(60)


def plainly(network: Network, following: Following) -> SharedPlan:
    """Serial generation where each node has only the hands it is followed with."""
    nodes = [_settled(node, following) for node in network.nodes]
    return serial_plan(replace(network, nodes=nodes), followed_keys(network, following))


def _settled(node: Node, following: Following) -> Node:
    who = {tuple(sorted(following.who.get(job, ()))) for job in node.ids}
    same = [team for team in node.work.teams if {tuple(sorted(team))} == who]
    if not same:
        return node
    works = tuple(replace(one, teams=(same[0],)) for one in node.works)
    return Node(works, node.release, node.before, node.after)


def assert_same(plan: Plan, seed: int) -> None:
    """Follow a plan made in an order of its own, with some jobs unknown to it."""
    posed, _, problem, teams = posed_problem(plan)
    made = serial_plan(posed.network, keys(posed.network, seed).tolist())
    known = [n for n in range(len(posed.network.nodes)) if (n + seed) % 4]
    ids = {job: n for n in known for job in posed.network.nodes[n].ids}
    following = Following(
        {job: int(made.start[n]) for job, n in ids.items()},
        {job: made.team[n] for job, n in ids.items()},
    )
    plain = plainly(posed.network, following)
    fast = followed_plan(posed.network, following, problem, teams)
    assert (fast.start, fast.finish) == (plain.start, plain.finish)
    assert (fast.team, fast.faults) == (plain.team, plain.faults)


@given(plan=valid_plans(), seed=st.integers(0, 1000))
@some
def test_random_workshops_are_followed_alike(plan: Plan, seed: int) -> None:
    assert_same(plan, seed)


def test_the_demo_workshop_is_followed_alike() -> None:
    plan = scheduling.read_plan(demo_plan())
    for seed in range(3):
        assert_same(plan, seed)
