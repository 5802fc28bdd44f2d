"""A machinist's slip of ten days that misses a paint slot: it costs a slot.

Five days a week; today is Monday 11 January 2027. The painter starts every twenty
working days from Monday 25 January: then on Monday 22 February. Firms whose word is
taken as it is given (`ends`, no returns), so every chance is nought or one.
"""

from __future__ import annotations

import pytest

import scheduling

DAYS = ("mon", "tue", "wed", "thu", "fri")
WEEK = {day: ["08:00-12:00", "12:30-16:30"] for day in DAYS}


def answered(promised: str) -> dict:
    return scheduling.answer(
        scheduling.read_plan(
            {
                "now": "2027-01-11T08:00",
                "reading": "ends",
                "samples": 20,
                "calendars": {"shop": {"week": WEEK}},
                "vendors": [
                    {"id": "machinist"},
                    {
                        "id": "painter",
                        "slots": {"every_working_days": 20, "from": "2027-01-25"},
                    },
                ],
                "builds": [{"id": "coupe"}],
                "shows": [
                    {
                        "id": "spring",
                        "name": "Spring",
                        "move_in": "2027-03-05T16:30",
                        "entries": [{"build": "coupe"}],
                    }
                ],
                "jobs": [
                    {
                        "id": "hinges",
                        "build": "coupe",
                        "kind": "outside",
                        "vendor": "machinist",
                        "estimate": {"likely": 20},
                        "state": "under way",
                        "started": "2026-12-14T08:00",
                        "sent": "2026-12-14",
                        "promised": promised,
                    },
                    {
                        "id": "paint",
                        "build": "coupe",
                        "kind": "outside",
                        "vendor": "painter",
                        "estimate": {"likely": 15, "fixed": True},
                        "after": ["hinges"],
                    },
                ],
            }
        )
    ).as_dict()


@pytest.mark.parametrize(
    ("promised", "start", "finish", "chance"),
    [
        # Back by Friday 22nd: the slot of the 25th; 15 days are over on 12 February.
        ("2027-01-22", "2027-01-25T08:00", "2027-02-12T16:30", 1.0),
        # A day later misses it all the same: the slot of 22 February, over on 12 March.
        ("2027-01-25", "2027-02-22T08:00", "2027-03-12T16:30", 0.0),
        # Ten working days later, Friday 5 February: not a day later than that.
        ("2027-02-05", "2027-02-22T08:00", "2027-03-12T16:30", 0.0),
    ],
)
def test_a_slip_costs_a_slot_and_not_its_own_days(promised, start, finish, chance):
    """Twenty working days from 12 February to 12 March, for a slip of one or of ten."""
    found = answered(promised)
    paint = found["jobs"]["paint"]
    assert (paint["planned_start"], paint["planned_finish"]) == (start, finish)
    levels = found["shows"]["spring"]["entries"]["coupe"]["levels"]
    assert levels["complete"]["probability"] == chance
