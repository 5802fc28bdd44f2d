"""Advice on batches, on plans small enough to work by hand.

Five days a week, 08:00 to 12:00 and 12:30 to 16:30; today is Monday 11 January 2027.
Nothing has a spread, so every chance is nought or one.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

import scheduling
from scheduling.going import batches, going_together
from scheduling.plan import BatchRule, Job, Vendor

DAYS = ("mon", "tue", "wed", "thu", "fri")
WEEK = {day: ["08:00-12:00", "12:30-16:30"] for day in DAYS}
TRIM = {"batch": {"same": ["colour", "alloy"]}, "minimum_charge": 120}


def piece(name, build, after=(), **facts):
    return {
        "id": name, "build": build, "kind": "outside", "vendor": "anodiser",
        "estimate": {"likely": 8, "fixed": True}, "colour": "black",
        "after": list(after), **facts,
    }  # fmt: skip


def fit(name, build, hours):
    return {
        "id": name, "build": build, "kind": "check",
        "estimate": {"likely": hours, "fixed": True},
    }  # fmt: skip


def nine(**facts):
    """Seven pieces of one car are ready; two of another wait for their trial fit."""
    ready = [piece(f"a{n}", "coupe", **facts) for n in range(7)]
    late = [piece("b0", "spyder", ["fit0"], **facts)]
    late.append(piece("b1", "spyder", ["fit1"], **facts))
    return plan(
        [*ready, fit("fit0", "spyder", 40), fit("fit1", "spyder", 60), *late],
        coupe="2027-01-22T16:00",
        spyder="2027-02-08T16:00",
    )


def plan(jobs, vendor=None, **shows):
    return scheduling.read_plan(
        {
            "now": "2027-01-11T08:00",
            "samples": 20,
            "factors": {"vendor": 0, "build": 0, "person": 0},
            "calendars": {"shop": {"week": WEEK}},
            "vendors": [{"id": "anodiser", **TRIM, **(vendor or {})}],
            "builds": [{"id": one} for one in ("coupe", "spyder")],
            "shows": [
                {
                    "id": f"{build} show",
                    "name": build,
                    "move_in": move_in,
                    "entries": [{"build": build}],
                }
                for build, move_in in shows.items()
            ],
            "jobs": jobs,
        }
    )


ALL = (*(f"a{n}" for n in range(7)), "b0", "b1")


def advised(found, jobs, **facts):
    return scheduling.advise(found, jobs, samples=20, **facts).as_dict()


def by_name(advice):
    return {one["name"]: one for one in advice["options"]}


def test_a_batch_of_nine_with_two_not_yet_trial_fitted():
    """Waiting saves 240 and costs the coupe its show.

    40 h of fitting end on Friday 15th at 16:30, 60 h on Wednesday 20th at noon,
    so it leaves when they open again at 12:30.
    Sent now: eight working days from Monday 11th are over on Wednesday 20th.
    """
    found = advised(nine(), ALL)
    assert found["ready"] == [f"a{n}" for n in range(7)]
    assert found["late"] == ["b0", "b1"]
    options = by_name(found)
    assert list(options) == ["wait", "ready", "split"]
    wait, ready, split = options.values()
    assert [one["charges"] for one in (wait, ready, split)] == [1, 3, 2]
    assert [one["cost"] for one in (wait, ready, split)] == [120, 360, 240]
    assert [load["leaves"] for load in wait["loads"]] == ["2027-01-20T12:30"]
    assert ready["loads"][0]["p80"] == "2027-01-20T16:30"
    assert [one["leaves"] for one in ready["loads"]] == [
        "2027-01-11T08:00", "2027-01-18T08:00", "2027-01-20T12:30",
    ]  # fmt: skip
    assert [one["leaves"] for one in split["loads"]] == [
        "2027-01-11T08:00", "2027-01-20T12:30",
    ]  # fmt: skip
    chance = {
        name: {one["build"]: one["probability"] for one in option["entries"]}
        for name, option in options.items()
    }
    # Leaving on the 20th it is back on 1 February: after the 22nd, before the 8th.
    assert chance["wait"] == {"coupe": 0, "spyder": 1}
    assert chance["ready"] == chance["split"] == {"coupe": 1, "spyder": 1}


def test_nothing_leaves_before_its_trial_fit():
    found = advised(nine(), ("b0", "b1"))
    wait, ready = found["options"]
    assert wait["loads"][0]["leaves"] == "2027-01-20T12:30"
    # Nothing is ready today: the first that is leaves by itself, over the weekend.
    assert [one["leaves"] for one in ready["loads"]] == [
        "2027-01-18T08:00",
        "2027-01-20T12:30",
    ]
    assert found["ready"] == ["b0"]


def test_the_last_day_that_keeps_the_show():
    """Eight working days have to be over by Friday 22nd at 16:00.

    Leaving on Tuesday 12th they are over on Thursday 21st at 16:30; on Wednesday 13th
    half an hour after the move-in.
    """
    found = advised(nine(), tuple(f"a{n}" for n in range(7)))["send_by"]
    assert (found["first"], found["day"]) == ("2027-01-11", "2027-01-12")
    (coupe, _) = found["entries"]
    assert (coupe["best"], coupe["kept"], coupe["after"]) == (1, 1, 0)


def test_late_already_says_the_first_day_and_what_it_gives():
    found = advised(plan([piece("a0", "coupe")], coupe="2027-01-15T16:00"), ("a0",))[
        "send_by"
    ]
    # Nothing keeps 80 in 100; leaving later takes nothing more away.
    assert found["day"] is None
    assert found["entries"][0]["best"] == 0


def test_a_batch_that_waits_too_long_says_so():
    """Together with the last two the seven miss the coupe's show on any day."""
    found = advised(nine(), ALL)["send_by"]
    assert (found["late"], found["day"]) == (True, None)
    assert (found["entries"][0]["best"], found["entries"][0]["kept"]) == (1, 0)


def test_without_a_show_no_day_is_the_last():
    found = advised(plan([piece("a0", "coupe")]), ("a0",))["send_by"]
    assert (found["day"], found["entries"]) == (None, [])


def test_only_days_on_which_the_colour_is_run_are_looked_at():
    """Black on Tuesdays: the 12th keeps the show of the 22nd, the 19th does not."""
    days = {"batch": {"same": ["colour"], "days": {"black": ["tue"]}}}
    found = advised(
        plan([piece("a0", "coupe")], days, coupe="2027-01-22T16:00"), ("a0",)
    )["send_by"]
    assert found["day"] == "2027-01-12"


def test_visible_parts_that_must_match_are_never_split():
    """Three visible ready ones share a car and a colour with a late one."""
    jobs = [
        *(piece(f"a{n}", "coupe", visible=n < 3) for n in range(5)),
        fit("fit0", "coupe", 40),
        piece("a5", "coupe", ["fit0"], visible=True),
    ]
    found = advised(plan(jobs), tuple(f"a{n}" for n in range(6)))
    assert found["held_back"] == ["a0", "a1", "a2"]
    options = by_name(found)
    loads = [one["jobs"] for one in options["ready"]["loads"]]
    assert loads == [["a3", "a4"], ["a0", "a1", "a2", "a5"]]
    assert "split" not in options  # it would be the same


def test_where_every_part_must_match_they_only_wait():
    jobs = [
        piece("a0", "coupe", visible=True),
        fit("fit0", "coupe", 40),
        piece("a1", "coupe", ["fit0"], visible=True),
    ]
    found = advised(plan(jobs), ("a0", "a1"))
    assert [one["name"] for one in found["options"]] == ["wait"]
    # On another car the same colour need not match.
    other = [jobs[0], jobs[1], jobs[2] | {"build": "spyder"}]
    assert "ready" in by_name(advised(plan(other), ("a0", "a1")))


def test_what_goes_the_same_way_is_found_across_cars():
    found = going_together(
        plan(
            [
                piece("a0", "coupe"),
                piece("b0", "spyder"),
                piece("c0", "coupe", colour="clear"),
                piece("d0", "coupe", alloy="6082"),
                piece("e0", "coupe", state="left out"),
                piece("f0", "coupe", sent="2027-01-08", state="under way"),
            ]
        )
    )
    assert [one.jobs for one in found] == [("a0", "b0"), ("c0",), ("d0",)]
    assert found[2].alike == (("colour", "black"), ("alloy", "6082"))


def test_what_comes_after_a_part_does_not_travel_with_it():
    """c0 goes back to the anodiser after a0 has been there and been fitted."""
    jobs = [
        piece("a0", "coupe"),
        fit("fit0", "coupe", 8) | {"after": ["a0"]},
        piece("c0", "coupe", ["fit0"]),
        piece("b0", "spyder"),
    ]
    assert [one.jobs for one in going_together(plan(jobs))] == [("a0", "b0"), ("c0",)]
    with pytest.raises(scheduling.PlanError):
        advised(plan(jobs), ("a0", "c0"))


def test_a_tin_holds_so_many_kilograms():
    """20 + 5 and 10 + 10 fill two tins of 25 kg; 30 kg is a tin of its own."""
    tin = Vendor("tank", batch=BatchRule(kilos=25))
    jobs = [Job(str(n), kilos=weight) for n, weight in enumerate((10, 20, 5, 10))]
    assert batches(jobs, tin) == 2
    assert batches([*jobs, Job("bar", kilos=30)], tin) == 3
    assert batches(jobs, Vendor("other")) == 1
    assert batches([Job("x"), Job("y")], tin) == 1


@pytest.mark.parametrize("jobs", [(), ("nowhere",), ("fit0",), ("a0", "z0"), ("sent",)])
def test_what_does_not_go_the_same_way_is_refused(jobs):
    found = nine()
    more = [
        Job("sent", kind="outside", vendor="anodiser", sent=date(2027, 1, 4)),
        Job("z0", kind="outside", vendor="other"),
    ]
    with pytest.raises(scheduling.PlanError):
        scheduling.advise(replace(found, jobs=(*found.jobs, *more)), jobs)
