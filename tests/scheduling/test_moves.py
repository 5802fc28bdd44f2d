"""What moves a show's date, and what the odds say of levels and cars together."""

from typing import Any

import pytest

import scheduling
from scheduling.moves import moves_of
from tests.scheduling.bench.simulation import invented_plan
from tests.scheduling.test_judge import fixed, hands, workshop


def answered(move_in: str = "2027-01-13T12:00") -> dict[str, Any]:
    """Two cars: a long chain that sets the date, and a short job beside it."""
    spread = {"low": 10, "likely": 16, "high": 30}
    jobs = [
        hands("long", 1, build="a", trade_level=3) | {"estimate": spread},
        hands("after", 2, build="a", after=["long"], level="running", trade_level=3),
        {"id": "short", "build": "a", "kind": "stand", "estimate": fixed(1)},
        hands("other", 6, build="b") | {"estimate": spread},
    ]
    entries = [{"build": "a"}, {"build": "b"}]
    show = {"id": "s", "name": "Show", "move_in": move_in, "entries": entries}
    builds = [{"id": "a", "rank": 1}, {"id": "b", "rank": 2}]
    plan = workshop(jobs=jobs, builds=builds, shows=[show], consignments=[])
    return scheduling.answer(scheduling.read_plan(plan), samples=3000).as_dict()


ANSWER = answered()
CAR = ANSWER["shows"]["s"]["entries"]["a"]["levels"]


def test_the_long_chain_moves_the_date_and_the_short_job_does_not() -> None:
    gains = {move["job"]: move for move in ANSWER["moves_show"]}
    assert gains["long"]["gain_probability"] > 0.1
    assert gains["long"]["gain_p80_days"] > 0
    assert "short" not in gains or gains["short"]["gain_probability"] == 0


def test_ending_a_job_today_never_lowers_its_own_cars_chance() -> None:
    for move in ANSWER["moves_show"]:
        gain = move["probability_then"] - move["probability_now"]
        assert gain == pytest.approx(move["gain_probability"], abs=2e-4)
        assert move["gain_probability"] >= 0


def test_a_job_moves_the_date_alike_whichever_were_tried_before_it() -> None:
    plan = scheduling.read_plan(invented_plan())
    found = scheduling.answer(plan, samples=1000, schedules=1).found
    first = [n for n, node in enumerate(found.network.nodes) if not node.before]
    told = found.network, found.odds, found.goals, found.dues
    together = moves_of(*told, first)
    alone = [move for one in first for move in moves_of(*told, [one])]
    assert len(together) > 4
    assert any(move.gain_p80_days > 0 for move in together)
    for move in together:
        assert move in alone


def test_what_drives_is_the_same_where_nothing_is_placed_again() -> None:
    plan = scheduling.read_plan(invented_plan())
    found = scheduling.answer(plan, samples=600, schedules=1).found
    kernel, times = found.odds.kernel, found.odds.first
    goals = [found.goals[due.build, due.level] for due in found.dues]
    marked = kernel.run(times, goals, only=frozenset())
    assert marked.any()
    assert (marked == kernel.run(times, goals)).all()


def test_percentiles_come_in_order_and_levels_are_nested() -> None:
    for level in CAR.values():
        assert level["p10"] <= level["p50"] <= level["p80"] <= level["p90"]
    chances = [level["probability"] for level in CAR.values()]
    assert chances == sorted(chances, reverse=True)


def test_a_joint_chance_is_at_most_the_least_and_at_least_what_must_overlap() -> None:
    """Fréchet's bounds, whatever the cars share (from memory)."""
    entries = ANSWER["shows"]["s"]["entries"].values()
    chances = [one["levels"]["complete"]["probability"] for one in entries]
    joint = ANSWER["shows"]["s"]["all_ready"]
    assert max(0.0, sum(chances) - 1.0) - 1e-3 <= joint <= min(chances) + 1e-3


def test_nobody_waiting_for_anybody_is_never_worse() -> None:
    for level in CAR.values():
        assert level["probability_alone"] >= level["probability"] - 0.05


def test_a_later_move_in_is_never_less_likely_to_be_met() -> None:
    later = answered("2027-01-18T12:00")["shows"]["s"]["entries"]["a"]["levels"]
    for name, level in CAR.items():
        assert later[name]["probability"] >= level["probability"]


def test_the_standard_error_is_the_binomial_one() -> None:
    level = CAR["complete"]
    chance = level["probability"]
    expected = (chance * (1 - chance) / 3000) ** 0.5
    assert level["standard_error"] == pytest.approx(expected, abs=2e-4)
