"""Least change against the plan people follow, and what is said about what moved."""

from typing import Any

import scheduling
from scheduling.followed import following_from
from scheduling.wishes import OTHER_HANDS, Following, change_of, weights_of
from tests.scheduling.problems import pose
from tests.scheduling.test_judge import hands, sent, workshop


def small(*jobs: dict[str, Any], **more: Any) -> dict[str, Any]:
    return workshop(jobs=list(jobs), consignments=[]) | more


def answered(rows: dict[str, Any], **options: Any) -> dict[str, Any]:
    chosen = {"schedules": 30, "samples": 5} | options
    plan = scheduling.read_plan(rows)
    answer = scheduling.answer(plan, **chosen).as_dict()
    assert scheduling.broken_rules(plan, answer) == ()
    return answer


def turned_round(answer: dict[str, Any]) -> dict[str, Any]:
    """Return what people follow with the times of two equal jobs exchanged."""
    one, two = (answer["jobs"][name] for name in ("one", "two"))
    return {
        "jobs": {
            "one": {"planned_start": two["planned_start"], "who": two["who"]},
            "two": {"planned_start": one["planned_start"], "who": one["who"]},
        }
    }


def test_of_two_plans_as_good_the_one_followed_is_kept() -> None:
    rows = small(*(hands(name, 4, trade_level=3) for name in ("one", "two")))
    first = answered(rows)
    followed = turned_round(first)
    again = answered(rows, following=followed)
    assert again["plan"]["moved"] == []
    for name in ("one", "two"):
        told = followed["jobs"][name]["planned_start"]
        assert again["jobs"][name]["planned_start"] == told


def test_a_plan_followed_whole_moves_nothing() -> None:
    rows = small(*(hands(f"j{n}", 3) for n in range(6)))
    first = answered(rows)
    assert answered(rows, following=first)["plan"]["moved"] == []


def test_work_at_a_vendor_moves_only_in_time() -> None:
    """The answer names the vendor as who does it; that is no change of hands."""
    rows = workshop(jobs=[sent("strip"), hands("one", 4)], consignments=[])
    first = answered(rows)
    assert first["jobs"]["strip"]["who"] == ["plater"]
    assert answered(rows, following=first)["plan"]["moved"] == []
    followed = following_from(pose(scheduling.read_plan(rows)).network, first)
    assert followed is not None
    assert followed.who["strip"] == ()
    later = rows | {"jobs": [sent("strip", not_before="2027-01-18T08:00")]}
    moved = answered(later, following=first)["plan"]["moved"]
    assert [(row["job"], row["was_who"]) for row in moved] == [("strip", [])]


def test_what_moved_is_listed_with_its_reason() -> None:
    """The first job grew by half a day: the one after it waits for it."""
    rows = small(hands("one", 4), hands("two", 2, after=["one"]))
    first = answered(rows)
    grown = small(hands("one", 8), hands("two", 2, after=["one"]))
    moved = answered(grown, following=first)["plan"]["moved"]
    assert [row["job"] for row in moved] == ["two"]
    assert moved[0]["was"] == first["jobs"]["two"]["planned_start"]
    assert moved[0]["now"] > moved[0]["was"]
    assert moved[0]["why"].startswith("It waits for “")


def test_the_old_order_is_kept_where_the_lead_wants_it() -> None:
    rows = small(*(hands(name, 4, trade_level=3) for name in ("one", "two")))
    followed = turned_round(answered(rows))
    kept = answered(rows, following=followed | {"keep": True})
    starts = {name: kept["jobs"][name]["planned_start"] for name in ("one", "two")}
    assert starts == {
        name: followed["jobs"][name]["planned_start"] for name in ("one", "two")
    }


def test_change_counts_quarters_and_a_day_for_other_hands() -> None:
    network = pose(
        scheduling.read_plan(small(hands("one", 4), hands("two", 4)))
    ).network
    start, team = [100.0, 200.0], [("ana",), ("ben",)]
    first = {network.nodes[n].ids[0]: int(start[n]) for n in range(2)}
    who = {network.nodes[n].ids[0]: team[n] for n in range(2)}
    following = Following(first, who)
    assert change_of(network, following, start, team) == 0
    assert change_of(network, following, [103.0, 200.0], team) == 3
    other = [("ben",), ("ben",)]
    assert change_of(network, following, [103.0, 200.0], other) == 3 + OTHER_HANDS


def test_cars_weigh_by_the_leads_order() -> None:
    builds = [{"id": name, "rank": rank} for name, rank in
              (("a", 1), ("b", 5), ("c", 5), ("d", 9))]  # fmt: skip
    plan = scheduling.read_plan(
        {"builds": builds, "jobs": [{"id": "x", "kind": "mark"}]}
    )
    weight = weights_of(plan)
    assert weight == {"a": 60, "b": 30, "c": 30, "d": 20, None: 15}
