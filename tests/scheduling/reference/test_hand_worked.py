"""Small plans for people, places and vendors, worked by hand in the comments.

The rules are common practice, no source; the sums are the check. The shop works
Monday to Friday, 08:00-12:00 and 13:00-17:00: eight hours a day.
"""

import pytest

from tests.scheduling.reference.cases import answered, fixed, week

DAY = ["08:00-12:00", "13:00-17:00"]
NOW = "2027-01-11T08:00"  # a Monday
PAINTER = {"id": "painter", "slots": {"every_working_days": 10, "from": "2027-01-18"}}


def shop(jobs, now=NOW, off=(), **more):
    calendars = {"shop": {"week": week(hours=DAY), "closed": list(off)}}
    plan = {"now": now, "reading": "ends", "calendars": calendars, "jobs": jobs}
    return answered(plan | more, samples=50)


def bench(name, hours, **more):
    return {"id": name, "kind": "bench", "estimate": fixed(hours)} | more


def outside(name, days, **more):
    return {"id": name, "kind": "outside", "estimate": fixed(days)} | more


def finish(result, name):
    return result["jobs"][name]["planned_finish"]


def finishes(result, *names):
    return [finish(result, name) for name in names]


ANA = {"id": "ana", "trades": {"weld": 3}}
BEN = {"id": "ben", "trades": {"weld": 2}}


def test_two_jobs_for_one_welder_follow_each_other():
    jobs = [bench("long", 6, trade="weld"), bench("short", 4, trade="weld")]
    result = shop(jobs, people=[ANA])
    # 6 + 4 = 10 hours: 8 on Monday, 2 on Tuesday, whichever comes first
    assert max(finishes(result, "long", "short")) == "2027-01-12T10:00"
    starts = [result["jobs"][name]["planned_start"] for name in ("long", "short")]
    assert min(starts) == NOW
    assert max(starts) >= min(finishes(result, "long", "short"))
    assert all(one["who"] == ["ana"] for one in result["jobs"].values())


def test_the_car_for_the_show_gets_the_welder_first():
    jobs = [
        bench("undated", 6, trade="weld", build="other"),
        bench("dated", 4, trade="weld", build="shown"),
    ]
    entries = [{"build": "shown", "level": "complete"}]
    show = {"id": "s", "name": "S", "move_in": "2027-01-11T12:00", "entries": entries}
    builds = [{"id": "other"}, {"id": "shown"}]
    result = shop(jobs, people=[ANA], builds=builds, shows=[show])
    # dated 08-12 Monday; undated 4 h Monday afternoon + 2 h Tuesday
    assert finishes(result, "dated", "undated") == [
        "2027-01-11T12:00",
        "2027-01-12T10:00",
    ]


def test_structural_work_goes_to_level_three_only():
    structural = {"trade": "weld", "trade_level": 3}
    jobs = [
        bench("sill", 4, **structural),
        bench("floor", 4, **structural),
        bench("bracket", 8, trade="weld"),
    ]
    result = shop(jobs, people=[ANA, BEN])
    # Ana 4 + 4 = 8 h, Ben 8 h beside her: all done at Monday's close
    for name in ("sill", "floor"):
        assert result["jobs"][name]["who"] == ["ana"]
    assert result["jobs"]["bracket"]["who"] == ["ben"]
    ends = sorted(finishes(result, "sill", "floor", "bracket"))
    assert ends == ["2027-01-11T12:00", "2027-01-11T17:00", "2027-01-11T17:00"]


def test_work_waits_for_a_person_away():
    ben = BEN | {"away": ["2027-01-12/2027-01-13"]}
    result = shop([bench("sill", 12, trade="weld")], people=[ben])
    # 8 h Monday, away Tuesday and Wednesday, 4 h Thursday morning
    assert finish(result, "sill") == "2027-01-14T12:00"


def test_a_slower_hand_takes_pace_times_the_hours():
    ben = BEN | {"pace": {"weld": 1.5}}
    result = shop([bench("sill", 4, trade="weld")], people=[ben])
    # 4 x 1.5 = 6 h: 4 before lunch, 2 after
    assert finish(result, "sill") == "2027-01-11T15:00"


def test_two_people_work_when_both_are_there():
    cleo = {"id": "cleo", "trades": {"weld": 1}, "away": ["2027-01-11/2027-01-11"]}
    result = shop([bench("lift", 4, trade="weld", people=2)], people=[BEN, cleo])
    # Cleo is back on Tuesday: 4 h that morning
    job = result["jobs"]["lift"]
    assert job["planned_finish"] == "2027-01-12T12:00"
    assert sorted(job["who"]) == ["ben", "cleo"]


@pytest.mark.parametrize(
    ("capacity", "last"), [(1, "2027-01-11T17:00"), (2, "2027-01-11T12:00")]
)
def test_a_place_holds_so_many_jobs(capacity, last):
    jobs = [bench("one", 4, places=["booth"]), bench("two", 4, places=["booth"])]
    result = shop(jobs, places=[{"id": "booth", "capacity": capacity}])
    # room for one: 4 h before lunch and 4 h after; room for two: both by noon
    assert sorted(finishes(result, "one", "two")) == ["2027-01-11T12:00", last]


@pytest.mark.parametrize(
    ("unbroken", "start", "end"),
    [
        # Monday afternoon 4 h, Tuesday closed, 2 h on Wednesday
        (False, "2027-01-11T13:00", "2027-01-13T10:00"),
        # 6 h do not fit into Monday afternoon: all on Wednesday, 08-12 and 13-15
        (True, "2027-01-13T08:00", "2027-01-13T15:00"),
    ],
)
def test_unbroken_work_does_not_start_before_a_closed_day(unbroken, start, end):
    jobs = [bench("lay-up", 6, unbroken=unbroken)]
    result = shop(jobs, now="2027-01-11T13:00", off=["2027-01-12/2027-01-12"])
    job = result["jobs"]["lay-up"]
    assert (job["planned_start"], job["planned_finish"]) == (start, end)


@pytest.mark.parametrize(
    ("hours", "start", "end"),
    [
        # 40 h end on Friday 15th: Monday 18th is the slot, 5 days end on the 22nd
        (40, "2027-01-18", "2027-01-22T17:00"),
        # 56 h end on Tuesday 19th: ten working days on is Monday 1 February
        (56, "2027-02-01", "2027-02-05T17:00"),
    ],
)
def test_a_slot_missed_by_a_day_costs_a_slot(hours, start, end):
    paint = outside("paint", 5, vendor="painter", after=["prep"])
    result = shop([bench("prep", hours), paint], vendors=[PAINTER])
    job = result["jobs"]["paint"]
    assert job["planned_start"][:10] == start
    assert job["planned_finish"] == end


def test_a_consignment_waits_for_its_last_piece():
    jobs = [
        bench("prep-a", 8),
        bench("prep-b", 24),
        outside("plate-a", 5, vendor="plater", after=["prep-a"]),
        outside("plate-b", 3, vendor="plater", after=["prep-b"]),
    ]
    batch = {"id": "batch", "vendor": "plater", "jobs": ["plate-a", "plate-b"]}
    result = shop(jobs, vendors=[{"id": "plater"}], consignments=[batch])
    # prep-b ends on Wednesday; both leave then; Thu Fri Mon Tue Wed = 5 days
    assert finishes(result, "plate-a", "plate-b") == ["2027-01-20T17:00"] * 2
    for name in ("plate-a", "plate-b"):
        assert result["jobs"][name]["planned_start"] >= "2027-01-13T17:00"


LINKS = [
    # with start, 2 h later: 10:00; by finish, 3 h after noon: 15:00
    ({"link": "with", "wait_hours": 2}, 1, "2027-01-11T10:00", "2027-01-11T11:00"),
    ({"link": "by", "wait_hours": 3}, 1, None, "2027-01-11T15:00"),
    # after finish, 22 h after Monday noon is Tuesday 10:00
    ({"wait_hours": 22}, 2, "2027-01-12T10:00", "2027-01-12T12:00"),
    # after finish, one working day after Monday noon is Tuesday noon
    ({"wait_days": 1}, 2, None, "2027-01-12T15:00"),
    # 116 h after Monday noon is Saturday 08:00, so Monday morning
    ({"wait_hours": 116}, 2, "2027-01-18T08:00", "2027-01-18T10:00"),
]


@pytest.mark.parametrize(("link", "hours", "start", "end"), LINKS)
def test_links_with_waits(link, hours, start, end):
    jobs = [bench("first", 4), bench("next", hours, after=[{"job": "first"} | link])]
    job = shop(jobs)["jobs"]["next"]
    assert finish({"jobs": {"next": job}}, "next") == job["early_finish"] == end
    assert start in (None, job["planned_start"])


def test_work_under_way_has_its_rest_left():
    begun = {"state": "under way", "started": "2027-01-08T08:00", "remaining": 3}
    result = shop([bench("sill", 20, **begun), bench("next", 2, after=["sill"])])
    # 3 h left on Monday: 11:00; then 1 h before lunch and 1 h after it
    assert finishes(result, "sill", "next") == ["2027-01-11T11:00", "2027-01-11T14:00"]
    assert result["jobs"]["sill"]["condition"] == "under way"


def test_a_job_ends_at_fridays_close_not_on_monday():
    assert finish(shop([bench("sill", 40)]), "sill") == "2027-01-15T17:00"


def test_a_promised_part_is_back_by_the_end_of_that_day():
    away = {"sent": "2027-01-04", "promised": "2027-01-13", "vendor": "plater"}
    jobs = [outside("plate", 5, **away), bench("fit", 2, after=["plate"])]
    result = shop(jobs, vendors=[{"id": "plater"}])
    # back at Wednesday's close; 2 h on Thursday morning
    assert finishes(result, "plate", "fit") == ["2027-01-13T17:00", "2027-01-14T10:00"]
    assert result["jobs"]["plate"]["condition"] == "away"


@pytest.mark.parametrize(
    ("commitment", "end"),
    # jig and trial fit start together at 08:00; the jig ends at 09:00, the fit at
    # Monday's close: an ordinary 2 h weld ends at 11:00, one that cannot be undone
    # waits for the fit and ends on Tuesday at 10:00
    [(False, "2027-01-11T11:00"), (True, "2027-01-12T10:00")],
)
def test_what_cannot_be_undone_waits_for_every_check_before_it(commitment, end):
    jobs = [
        {"id": "fit", "kind": "check", "estimate": fixed(8)},
        bench("jig", 1, after=[{"job": "fit", "link": "with"}]),
        bench("weld", 2, after=["jig"], commitment=commitment),
    ]
    assert finish(shop(jobs), "weld") == end


def test_a_chain_of_five_thousand_jobs_is_answered():
    count = 5000
    jobs = [bench(f"j{n}", 1, after=[f"j{n - 1}"] if n else []) for n in range(count)]
    result = answered({"now": NOW, "jobs": jobs}, samples=20, schedules=1)
    assert result["duration_hours"] == pytest.approx(count)
    assert len(result["critical_path"]) == count
    # 5000 h = 208 days and 8 h after 11 January 08:00: 7 August, 16:00
    assert finish(result, f"j{count - 1}") == "2027-08-07T16:00"
    assert result["jobs"]["j0"]["holds"] == count - 1
