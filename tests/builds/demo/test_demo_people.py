"""Who works at the demo workshop and when; facts written by hand."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import numpy as np

from builds.demo.plan import demo_plan

PLAN = demo_plan()
JOBS = {job["id"]: job for job in PLAN["jobs"]}

# Bank holidays of England in early 2027, from gov.uk/bank-holidays (from memory).
BANK_HOLIDAYS = ("2027-03-26", "2027-03-29", "2027-05-03", "2027-05-31")


def hours_a_week(calendar: str) -> float:
    minutes = 0
    for opening in PLAN["calendars"][calendar]["week"].values():
        for one in opening:
            opens, closes = (datetime.strptime(t, "%H:%M") for t in one.split("-"))
            minutes += (closes - opens).seconds // 60
    return minutes / 60


def test_there_are_105_working_days_up_to_the_day_before_move_in():
    shop = PLAN["calendars"]["shop"]
    assert next(iter(PLAN["calendars"])) == "shop"
    shut = []
    for span in shop["closed"]:
        first, last = map(date.fromisoformat, span.split("/"))
        shut += [first + timedelta(days=n) for n in range((last - first).days + 1)]
    assert set(BANK_HOLIDAYS) <= {str(day) for day in shut}
    # numpy counts the days, with England's holidays, not our calendar code.
    assert np.busday_count("2027-01-11", "2027-06-11", holidays=shut) == 105


def test_each_person_has_the_hours_they_give_to_cars():
    hours = {one["id"]: hours_a_week(one["calendar"]) for one in PLAN["people"]}
    assert hours == {
        "imogen": 14,
        "rafe": 30,  # four days of 6.5 and a Friday of 4
        "nkechi": 30,
        "jory": 30,
        "sunniva": 19.5,  # Monday to Wednesday
        "tomos": 30,
        "petra": 23,  # school hours
        "anselm": 23.5,  # no Thursdays
    }


def test_people_work_inside_the_hours_the_shop_is_open():
    shop = PLAN["calendars"]["shop"]["week"]
    for person in PLAN["people"]:
        for day, hours in PLAN["calendars"][person["calendar"]]["week"].items():
            for one in hours:
                opens, closes = one.split("-")
                spans = [span.split("-") for span in shop[day]]
                assert any(a <= opens and closes <= b for a, b in spans)


def test_only_one_person_welds_structure_and_only_at_level_three():
    allowed = {p["id"]: p["trades"]["structural"] for p in PLAN["people"]
               if "structural" in p["trades"]}  # fmt: skip
    assert allowed == {"rafe": 3}
    for code in ("q118-c05", "q118-c06", "q116-d11", "q118-x01"):
        job = JOBS[code]
        assert (job["trade"], job["trade_level"]) == ("structural", 3)
        assert job["commitment"]
        assert job["safety"]


def test_who_is_away_when():
    away = {one["id"]: one["away"] for one in PLAN["people"]}
    assert away["jory"] == ["2027-05-10/2027-05-21"]
    assert away["rafe"] == ["2027-03-29/2027-04-02"]
    assert away["petra"] == ["2027-02-15/2027-02-19", "2027-03-31/2027-04-09"]
    assert away["sunniva"] == []


def test_nobody_is_at_work_on_two_jobs():
    at_work = [job["person"] for job in PLAN["jobs"]
               if job.get("state") == "under way" and "person" in job]  # fmt: skip
    assert len(at_work) == len(set(at_work)) == 6
