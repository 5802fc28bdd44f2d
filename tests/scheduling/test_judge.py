"""The judge has teeth: every kind of broken plan is caught, a sound one is not."""

from copy import deepcopy
from typing import Any

import pytest

import scheduling
from scheduling.timeline import WEEKDAYS

WEEK = {day: ["08:00-12:00", "13:00-17:00"] for day in WEEKDAYS[:5]}
MONDAY = "2027-01-11T08:00"


def workshop(**more: Any) -> dict[str, Any]:
    """Two welders of whom one signs off, an apprentice, a booth and a plater."""
    return {
        "now": MONDAY,
        "calendars": {"shop": {"week": WEEK, "closed": ["2027-01-20/2027-01-20"]}},
        "people": [
            {"id": "ana", "trades": {"weld": 3}, "away": ["2027-01-14/2027-01-14"]},
            {"id": "ben", "trades": {"weld": 2}, "pace": {"weld": 2.0}},
            {"id": "cal", "trades": {"weld": 1}},
        ],
        "places": [{"id": "booth", "capacity": 1}],
        "vendors": [
            {"id": "plater", "slots": {"every_working_days": 2, "from": "2027-01-12"}}
        ],
        "jobs": [
            hands("cut", 4),
            hands("weld", 6, after=["cut"], trade_level=3, places=["booth"]),
            hands("lift", 8, people=2),
            hands("prime", 4, places=["booth"]),
            {"id": "cure", "kind": "stand", "estimate": fixed(24), "after": ["prime"]},
            hands("seam", 2, after=[{"job": "cure", "wait_days": 1}], unbroken=True),
            hands("fit", 2, kind="check"),
            hands("drill", 1, commitment=True, after=[{"job": "fit", "link": "with"}]),
            sent("plate", after=["weld"]),
            sent("strip"),
            sent("nuts", after=["cut"]),
            sent("bolts", after=["cut"]),
            hands("gone", 4, state="left out", after=["lift"]),
            hands("last", 4, after=["gone"], not_before="2027-01-13T08:00"),
        ],
        "consignments": [
            {"id": "small", "vendor": "plater", "jobs": ["nuts", "bolts"]}
        ],
    } | more


def fixed(length: float) -> dict[str, Any]:
    return {"likely": length, "fixed": True}


def hands(name: str, length: float, **more: Any) -> dict[str, Any]:
    job = {"id": name, "kind": "bench", "trade": "weld", "estimate": fixed(length)}
    return job | more


def sent(name: str, **more: Any) -> dict[str, Any]:
    job = {"id": name, "kind": "outside", "vendor": "plater", "estimate": fixed(3)}
    return job | more


PLAN = scheduling.read_plan(workshop())
ANSWER = scheduling.answer(PLAN, schedules=2, samples=10).as_dict()


def judged(job: str, **changes: Any) -> list[str]:
    """Return what the judge says once one job's claim is changed."""
    answer = deepcopy(ANSWER)
    answer["jobs"][job].update(changes)
    return [f"{one.where}: {one.what}" for one in scheduling.broken_rules(PLAN, answer)]


def at(job: str, key: str) -> Any:
    return ANSWER["jobs"][job][key]


def test_a_sound_plan_passes() -> None:
    assert scheduling.broken_rules(PLAN, ANSWER) == ()
    assert not ANSWER["problems"]


@pytest.mark.parametrize(
    ("job", "changes", "said"),
    [
        ("cut", {"planned_start": "2027-01-11T07:00"}, "starts before now"),
        ("cut", {"planned_start": "2027-01-11T12:15"}, "in closed time"),
        ("cut", {"planned_finish": "2027-01-11T08:00"}, "is given"),
        ("cut", {"planned_start": None}, "has no planned start"),
        ("cut", {"who": ["cal"]}, "nobody on it at its level"),
        ("weld", {"who": ["ben"]}, "nobody on it at its level"),
        ("cut", {"who": ["zoe"]}, "of the people here"),
        ("cut", {"who": []}, "of the people here"),
        ("lift", {"who": ["ana"]}, "needs 2 of the people here"),
        ("lift", {"who": ["ana", "ana"]}, "needs 2 of the people here"),
        ("plate", {"who": ["elsewhere"]}, "is not with its vendor"),
        ("plate", {"planned_start": "2027-01-13T08:00"}, "which is no slot"),
        ("strip", {"planned_start": at("plate", "planned_start")}, "takes a slot"),
        ("bolts", {"planned_finish": "2027-03-01T17:00"}, "go and come back"),
        ("gone", {"planned_start": MONDAY}, "left out and takes no time"),
        ("last", {"planned_start": "2027-01-12T08:00"}, "starts before 2027-01-13"),
        ("last", {"planned_start": "2027-01-11T08:00"}, "does not wait for “gone”"),
        ("weld", {"planned_start": "2027-01-11T08:00"}, "does not wait for “cut”"),
        ("cure", {"planned_start": "2027-01-11T08:00"}, "does not wait for “prime”"),
        ("seam", {"planned_start": at("cure", "planned_finish")}, "wait for “cure”"),
        ("drill", {"planned_start": at("fit", "planned_start")}, "before check “fit”"),
    ],
)
def test_a_changed_claim_is_caught(job: str, changes: Any, said: str) -> None:
    assert any(said in one and f"jobs/{job}:" in one for one in judged(job, **changes))


def test_one_person_on_two_jobs_is_caught() -> None:
    taken = {key: at("cut", key) for key in ("planned_start", "planned_finish", "who")}
    assert any("still on" in one for one in judged("fit", **taken))


def test_a_full_place_is_caught() -> None:
    span = {key: at("weld", key) for key in ("planned_start", "planned_finish")}
    assert any("no room in “booth”" in one for one in judged("prime", **span))


def test_a_slower_hand_needs_more_hours() -> None:
    """Four hours at pace 2 are eight."""
    span = {"planned_start": MONDAY, "planned_finish": "2027-01-11T12:00"}
    said = judged("cut", **span, who=["ben"])
    assert any("needs 8.00 and is given 4.00" in one for one in said)
    assert not any("needs 4.00" in one for one in judged("cut", **span, who=["ana"]))


def test_hours_on_a_day_away_do_not_count() -> None:
    """Wednesday 13th 15:00 to Thursday 14th 12:00: two hours, as Ana is away."""
    span = {"planned_start": "2027-01-13T15:00", "planned_finish": "2027-01-14T12:00"}
    said = judged("cut", **span, who=["ana"])
    assert any("needs 4.00 and is given 2.00" in one for one in said)


def test_unbroken_work_over_a_closed_day_is_caught_and_over_a_night_is_not() -> None:
    """The workshop is closed on Wednesday 20 January 2027."""
    over = {"planned_start": "2027-01-19T16:00", "planned_finish": "2027-01-21T09:00"}
    night = {"planned_start": "2027-01-18T16:00", "planned_finish": "2027-01-19T09:00"}
    said = "may not be broken off"
    assert any(said in one for one in judged("seam", **over, who=["ana"]))
    assert not any(said in one for one in judged("seam", **night, who=["ana"]))


def test_history_is_not_rewritten() -> None:
    done = {"state": "done", "started": "2027-01-08T08:00"}
    plan = scheduling.read_plan(
        {"now": MONDAY, "jobs": [
            {"id": "old", "estimate": fixed(1), "finished": "2027-01-08T09:00"} | done,
            {"id": "new", "estimate": fixed(1),
             "after": [{"job": "old", "wait_hours": 80}]}]}
    )  # fmt: skip
    answer = scheduling.answer(plan, samples=10).as_dict()
    assert scheduling.broken_rules(plan, answer) == ()
    answer["jobs"]["old"]["planned_finish"] = "2027-01-08T12:00"
    answer["jobs"]["new"] |= {"planned_start": "2027-01-11T16:00",
                              "planned_finish": "2027-01-11T17:00"}  # fmt: skip
    said = [one.what for one in scheduling.broken_rules(plan, answer)]
    assert any("was done at" in one for one in said)
    assert any("does not wait for “old”" in one for one in said)
