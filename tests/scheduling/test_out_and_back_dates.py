"""What waiting, slipping and coming back in part cost, in dates worked by hand.

Everybody works 08:00 to 16:00 on weekdays, estimates are fixed, and it is Monday
11 January 2027, 08:00. The firms and cars are invented.
"""

from __future__ import annotations

from typing import Any

import scheduling

WEEK = {day: ["08:00-16:00"] for day in ("mon", "tue", "wed", "thu", "fri")}


def planned(*jobs: dict[str, Any], slots: dict[str, Any], **more: Any) -> Any:
    plan = {
        "now": "2027-01-11T08:00",
        "calendars": {"week": {"week": WEEK}},
        "people": [
            {"id": "ana", "calendar": "week", "trades": {"fit": 3}},
            {"id": "ben", "calendar": "week", "trades": {"trial": 3}},
        ],
        "vendors": [
            {"id": "slotted", "calendar": "week", "slots": slots},
            {"id": "machinist", "calendar": "week"},
        ],
        "jobs": list(jobs),
        **more,
    }
    return scheduling.answer(scheduling.read_plan(plan), samples=5).as_dict()["jobs"]


def bench(
    name: str, hours: float, *after: str, kind: str = "bench", trade: str = "fit"
) -> dict[str, Any]:
    return {
        "id": name, "kind": kind, "trade": trade, "after": list(after),
        "estimate": {"likely": hours, "fixed": True},
    }  # fmt: skip


def outside(
    name: str, days: float, *after: str, vendor: str = "slotted", **more: Any
) -> dict[str, Any]:
    return {
        "id": name, "kind": "outside", "vendor": vendor, "after": list(after),
        "estimate": {"likely": days, "fixed": True}, **more,
    }  # fmt: skip


# Anodising starts on Tuesdays: 12, 19 and 26 January, 2 February.
TUESDAYS = {"every_working_days": 5, "from": "2027-01-12"}
# Nine pieces: seven are trial fitted, two need ten more days (80 h) of trial fitting,
# from Monday 11 to Friday 22 January. Anodising takes five days.
NINE = (
    outside("seven", 5),
    bench("trial fit", 80, kind="check", trade="trial"),
    outside("two", 5, "trial fit"),
    bench("fit the seven", 4, "seven"),
)


def test_a_batch_of_nine_waits_for_the_two_that_are_not_trial_fitted() -> None:
    """Together: the first Tuesday after Fri 22 is the 26th; five days to Mon 1 Feb."""
    both = [{"id": "batch", "vendor": "slotted", "jobs": ["seven", "two"]}]
    jobs = planned(*NINE, slots=TUESDAYS, consignments=both)
    assert jobs["trial fit"]["planned_finish"] == "2027-01-22T16:00"
    for part in ("seven", "two"):
        assert jobs[part]["planned_start"] == "2027-01-26T08:00"
        assert jobs[part]["planned_finish"] == "2027-02-01T16:00"
    assert jobs["fit the seven"]["planned_start"] == "2027-02-02T08:00"
    assert any("leaves together" in one.lower() for one in jobs["seven"]["reasons"])


def test_sent_as_seven_they_are_back_two_slots_sooner() -> None:
    """Seven leave on Tue 12, are back on Mon 18 and fitted on Tue 19: ten working days
    sooner. The two still come on 1 February.
    """
    seven = [{"id": "batch", "vendor": "slotted", "jobs": ["seven"]}]
    jobs = planned(*NINE, slots=TUESDAYS, consignments=seven)
    assert jobs["seven"]["planned_start"] == "2027-01-12T08:00"
    assert jobs["seven"]["planned_finish"] == "2027-01-18T16:00"
    assert jobs["two"]["planned_finish"] == "2027-02-01T16:00"
    assert jobs["fit the seven"]["planned_start"] == "2027-01-19T08:00"


# The painter takes a shell every 20 working days from Monday 7 December: 4 January,
# 1 February, 1 March. The shell needs the machinist's part and two days (16 h) more.
SHELLS = {"every_working_days": 20, "from": "2026-12-07"}


def painted(promised: str) -> tuple[str, str]:
    part = outside(
        "part", 20, vendor="machinist", sent="2026-12-14", promised=promised,
        promises=[{"date": promised, "given": "2026-12-14"}],
    )  # fmt: skip
    jobs = planned(
        part, bench("shell", 16, "part"), outside("paint", 10, "shell"), slots=SHELLS
    )
    assert jobs["part"]["planned_finish"][:10] == promised
    return jobs["paint"]["planned_start"], jobs["paint"]["planned_finish"]


def test_on_time_the_shell_takes_the_slot_of_the_first_of_february() -> None:
    """Back on Fri 15 January, shell done on Tue 19: the next slot is 1 February."""
    assert painted("2027-01-15") == ("2027-02-01T08:00", "2027-02-12T16:00")


def test_a_slip_of_eight_days_costs_nothing() -> None:
    """Back on Wed 27 January, shell done on Fri 29: still 1 February."""
    assert painted("2027-01-27") == ("2027-02-01T08:00", "2027-02-12T16:00")


def test_a_slip_of_ten_days_costs_a_slot_of_twenty() -> None:
    """Back on Fri 29 January, shell done on Tue 2 February: the slot of the 1st has
    gone, the next is 1 March. Ten working days late in, twenty late out.
    """
    assert painted("2027-01-29") == ("2027-03-01T08:00", "2027-03-12T16:00")
