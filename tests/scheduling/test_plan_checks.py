"""Everything that cannot be true of a plan is named: where, what, and what to do."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import pytest

from scheduling.errors import PlanError
from scheduling.plan import (
    Build,
    Calendar,
    Consignment,
    Entry,
    Estimate,
    Hours,
    Job,
    Link,
    Person,
    Place,
    PlaceUse,
    Plan,
    Promise,
    Show,
    SlotRule,
    Span,
    Vendor,
)
from scheduling.plan_checks import check_plan
from scheduling.plan_file import read_plan

NOW = datetime(2027, 1, 11, 8, 0)
WEEK = {"mon": (Hours(480, 960),)}
HOUR = Estimate(likely=1.0)


def job(name="a", **keys):
    return Job(name, **{"estimate": HOUR, **keys})


def away(name="a", vendor="v", **keys):
    return job(name, kind="outside", vendor=vendor, **keys)


def after(*names):
    return tuple(Link(name) for name in names)


def plan(*jobs, **keys):
    return Plan(now=NOW, jobs=jobs, **keys)


def faults(*jobs, **keys):
    return check_plan(plan(*jobs, **keys))


def only(*jobs, **keys):
    """The place, the words and the remedy of the one fault there is."""
    found = faults(*jobs, **keys)
    assert len(found) == 1, found
    assert found[0].fix.endswith(".")
    assert not found[0].what.endswith(".")
    return found[0].where, found[0].what


def test_a_plan_that_makes_sense_has_no_faults():
    assert faults(job("a"), job("b", after=after("a"))) == ()


# ids


@pytest.mark.parametrize(
    ("group", "records"),
    [
        ("people", (Person("x"), Person("y"), Person("x"))),
        ("places", (Place("x"), Place("y"), Place("x"))),
        ("vendors", (Vendor("x"), Vendor("y"), Vendor("x"))),
        ("builds", (Build("x"), Build("y"), Build("x"))),
        ("shows", (Show("x", "", NOW), Show("y", "", NOW), Show("x", "", NOW))),
        ("jobs", (job("x"), job("y"), job("x"))),
    ],
)
def test_an_id_given_twice(group, records):
    found = check_plan(Plan(now=NOW, **{group: records}))
    assert [(one.where, one.what) for one in found] == [
        (f'{group}[2] "x"', f"has the same id as {group}[0]")
    ]


def test_a_calendar_given_twice():
    pair = (Calendar("shop", week=WEEK), Calendar("shop", week=WEEK))
    where, what = only(calendars=pair)
    assert (where, what) == ('calendars "shop"', "has the same id as calendars[0]")


def test_a_consignment_id_given_twice():
    pair = (Consignment("c", "v", ("a",)), Consignment("c", "v", ("b",)))
    where, what = only(away("a"), away("b"), vendors=(Vendor("v"),), consignments=pair)
    assert (where, what) == (
        'consignments[1] "c"',
        "has the same id as consignments[0]",
    )


def test_the_same_id_in_two_different_lists_is_fine():
    assert faults(job("x"), people=(Person("x"),), builds=(Build("x"),)) == ()


def test_a_level_named_twice():
    where, what = only(levels=("running", "complete", "running"))
    assert (where, what) == ("levels[2]", 'is "running" for the second time')


def test_a_car_entered_twice_for_one_show():
    show = Show("s", "", NOW, (Entry("q"), Entry("q", "running")))
    where, what = only(builds=(Build("q"),), shows=(show,))
    assert where == 'shows[0] "s".entries[1]'
    assert what == 'enters the build "q" a second time'


@pytest.mark.parametrize(
    ("where", "kind", "given"),
    [
        ('jobs[0] "a".build', "a build", plan(job(build="nil"))),
        ('jobs[0] "a".person', "a person", plan(job(person="nil"))),
        ('jobs[0] "a".vendor', "a vendor", plan(away(vendor="nil"))),
        ('jobs[0] "a".level', "a level", plan(job(level="nil"))),
        ('jobs[0] "a".places[0]', "a place", plan(job(places=(PlaceUse("nil"),)))),
        ('jobs[0] "a".after[0]', "a job", plan(job(after=after("nil")))),
        (
            'people[0] "p".calendar',
            "a calendar",
            plan(people=(Person("p", calendar="nil"),)),
        ),
        (
            'places[0] "p".calendar',
            "a calendar",
            plan(places=(Place("p", calendar="nil"),)),
        ),
        (
            'vendors[0] "p".calendar',
            "a calendar",
            plan(vendors=(Vendor("p", calendar="nil"),)),
        ),
        (
            'shows[0] "s".entries[0].build',
            "a build",
            plan(shows=(Show("s", "", NOW, (Entry("nil"),)),)),
        ),
        (
            'shows[0] "s".entries[0].level',
            "a level",
            plan(
                builds=(Build("q"),), shows=(Show("s", "", NOW, (Entry("q", "nil"),)),)
            ),
        ),
        (
            'consignments[0] "c".jobs[0]',
            "a job",
            plan(
                vendors=(Vendor("v"),), consignments=(Consignment("c", "v", ("nil",)),)
            ),
        ),
    ],
)
def test_a_name_that_is_nowhere_in_the_plan(where, kind, given):
    found = check_plan(given)
    assert [(one.where, one.what) for one in found] == [
        (where, f'names {kind} the plan does not have: "nil"')
    ]


def test_a_consignment_to_nobody():
    found = faults(
        away(), vendors=(Vendor("v"),), consignments=(Consignment("c", "nil", ("a",)),)
    )
    assert found[0].where == 'consignments[0] "c".vendor'
    assert found[0].what == 'names a vendor the plan does not have: "nil"'


def test_without_calendars_there_is_one_named_always():
    assert faults(people=(Person("p", calendar="always"),)) == ()


def test_a_near_miss_is_offered():
    found = faults(job("Tank Weld"), job("b", after=after("tank-weld")))
    assert found[0].fix == 'Write it as the plan does: "Tank Weld".'


def test_a_short_list_is_offered():
    found = faults(job(build="q9"), builds=(Build("q1"), Build("q2")))
    assert found[0].fix == 'Use one of: "q1", "q2"; or add it under "builds".'


@pytest.mark.parametrize(
    ("cars", "fix"),
    [
        (0, 'Add it under "builds", or correct the name.'),
        (8, None),
        (9, 'Add it under "builds", or correct the name.'),
    ],
)
def test_a_long_list_or_none_is_not(cars, fix):
    found = faults(job(build="x"), builds=tuple(Build(f"q{n}") for n in range(cars)))
    assert found[0].fix == fix or found[0].fix.startswith('Use one of: "q0", ')
    assert found[0].fix.startswith("Use one of") == (fix is None)


# days and hours


def test_a_single_day_away_is_fine():
    day = (Span(date(2027, 2, 8), date(2027, 2, 8)),)
    assert faults(people=(Person("p", away=day),)) == ()


def test_a_day_may_be_open_from_midnight_to_midnight():
    assert faults(calendars=(Calendar("c", week={"mon": (Hours(0, 1440),)}),)) == ()


@pytest.mark.parametrize("hours", [Hours(480, 480), Hours(-15, 480), Hours(480, 1455)])
def test_hours_of_no_length_or_outside_the_day(hours):
    found = faults(calendars=(Calendar("c", week={**WEEK, "tue": (hours,)}),))
    assert [one.where for one in found] == ['calendars "c".week.tue']


def test_one_quarter_hour_a_week_is_working_time():
    assert faults(calendars=(Calendar("c", week={"mon": (Hours(480, 495),)}),)) == ()


def test_opening_hours_that_overlap():
    week = {"mon": (Hours(780, 1005), Hours(480, 785))}
    where, what = only(calendars=(Calendar("shop", week=week),))
    assert where == 'calendars "shop".week.mon'
    assert what == "has 08:00-13:05 and 13:00-16:45, which overlap"


def test_hours_that_overlap_one_longer_before_them():
    day = (Hours(480, 1020), Hours(540, 600), Hours(660, 720))
    found = faults(calendars=(Calendar("c", week=WEEK, open={date(2027, 5, 22): day}),))
    assert [one.where for one in found] == ['calendars "c".open["2027-05-22"]'] * 2
    assert found[1].what == "has 08:00-17:00 and 11:00-12:00, which overlap"


def test_hours_that_follow_each_other_are_fine():
    week = {"mon": (Hours(480, 720), Hours(720, 960))}
    assert faults(calendars=(Calendar("c", week=week),)) == ()


def test_hours_that_close_before_they_open():
    week = {**WEEK, "tue": (Hours(960, 480),)}
    where, what = only(calendars=(Calendar("c", week=week),))
    assert where == 'calendars "c".week.tue'
    assert what == "has 16:00-08:00, which closes before it opens"


@pytest.mark.parametrize(
    "calendar",
    [
        Calendar("c"),
        Calendar("c", week={"mon": ()}),
        Calendar("c", week={"mon": (Hours(485, 495),)}),
        Calendar("c", open={date(2027, 5, 22): (Hours(480, 960),)}),
    ],
)
def test_a_calendar_without_working_time(calendar):
    where, what = only(calendars=(calendar,))
    assert where == 'calendars "c"'
    assert what.startswith("has no working time")


def test_a_calendar_that_runs_day_and_night_needs_no_hours():
    assert faults(calendars=(Calendar("c", elapsed=True),)) == ()


BACKWARDS = (Span(date(2027, 2, 9), date(2027, 2, 8)),)


@pytest.mark.parametrize(
    ("where", "given"),
    [
        (
            'calendars "c".closed[0]',
            {"calendars": (Calendar("c", WEEK, closed=BACKWARDS),)},
        ),
        ('people[0] "p".away[0]', {"people": (Person("p", away=BACKWARDS),)}),
        ('vendors[0] "v".closed[0]', {"vendors": (Vendor("v", closed=BACKWARDS),)}),
    ],
)
def test_days_that_end_before_they_begin(where, given):
    found = only(**given)
    assert found == (where, "is 2027-02-09/2027-02-08, which ends before it begins")


def last(year):
    return date(year, 12, 31)


def at(year):
    return datetime(year, 1, 1)


ODD_YEARS = [
    ("now", Plan(now=at(1))),
    ("now", Plan(now=at(9999))),
    ('shows[0] "s".move_in', plan(shows=(Show("s", "", at(2201)),))),
    (
        'calendars "c".open["9999-12-31"]',
        plan(calendars=(Calendar("c", WEEK, open={last(9999): ()}),)),
    ),
    (
        'people[0] "p".away[0]',
        plan(people=(Person("p", away=(Span(last(2026), last(9999)),)),)),
    ),
    (
        'vendors[0] "v".slots.from',
        plan(vendors=(Vendor("v", slots=SlotRule(5, last(1969))),)),
    ),
    ('jobs[0] "a".needed_by', plan(job(needed_by=last(2201)))),
    ('jobs[0] "a".not_before', plan(job(not_before=at(2201)))),
    ('jobs[0] "a".promised', plan(away(promised=last(2201)), vendors=(Vendor("v"),))),
    ('jobs[0] "a".sent', plan(away(sent=last(1)), vendors=(Vendor("v"),))),
    ('jobs[0] "a".started', plan(job(started=at(1)))),
    ('jobs[0] "a".finished', plan(job(finished=at(1969)))),
    ('jobs[0] "a".promises[0].date', plan(job(promises=(Promise(last(2201)),)))),
    ('jobs[0] "a".promises[0].given', plan(job(promises=(Promise(None, last(1)),)))),
    (
        'consignments[0] "c".leaves',
        plan(
            away(),
            vendors=(Vendor("v"),),
            consignments=(Consignment("c", "v", ("a",), at(2201)),),
        ),
    ),
]


@pytest.mark.parametrize(("where", "given"), ODD_YEARS)
def test_years_outside_1970_to_2200(where, given):
    found = check_plan(given)
    assert [one.where for one in found] == [where]
    assert found[0].what.endswith("outside the years 1970 to 2200")


def test_the_first_and_last_year_are_inside():
    assert faults(job(needed_by=last(2200)), job("b", started=at(1970))) == ()


# estimates


def test_a_job_without_an_estimate():
    where, what = only(job(kind="order", estimate=None))
    assert (where, what) == ('jobs[0] "a"', "has no estimate")
    assert faults(job(kind="order", estimate=None))[0].fix == (
        "Give its likely time in the supplier's working days."
    )


@pytest.mark.parametrize(
    "keys", [{"kind": "mark"}, {"state": "done"}, {"state": "left out"}]
)
def test_who_needs_no_estimate(keys):
    assert faults(job(estimate=None, **keys)) == ()


@pytest.mark.parametrize("name", ["low", "likely", "high"])
def test_an_estimate_below_nought(name):
    values: dict[str, Any] = {"low": 1.0, "likely": 2.0, "high": 3.0, name: -3.0}
    where, what = only(job(estimate=Estimate(**values)))
    assert where == f'jobs[0] "a".estimate.{name}'
    assert what == "is -3, which is no length of time"


def test_an_estimate_without_end():
    where, what = only(job(estimate=Estimate(float("inf"))))
    assert (where, what) == (
        'jobs[0] "a".estimate.likely',
        "is inf, which is no length of time",
    )


@pytest.mark.parametrize(
    ("low", "likely", "high"), [(8, 4, 16), (2, 20, 16), (9, 5, 1)]
)
def test_an_estimate_out_of_order(low, likely, high):
    where, what = only(job(estimate=Estimate(likely, low, high)))
    assert where == 'jobs[0] "a".estimate'
    assert what == f"is out of order: low {low}, likely {likely}, high {high}"


def test_half_a_range():
    assert only(job(estimate=Estimate(4, low=2)))[1] == "gives a low without a high"
    assert only(job(estimate=Estimate(4, high=8)))[1] == "gives a high without a low"


@pytest.mark.parametrize(
    "estimate",
    [
        *(Estimate(4, 4, 4), Estimate(0)),
        *(Estimate(4, 8, 2, fixed=True), Estimate(4, 2, fixed=True)),
    ],
)
def test_estimates_that_are_fine(estimate):
    assert faults(job(estimate=estimate)) == ()


# what a job says of itself


def test_promised_before_it_was_sent():
    where, what = only(
        away(sent=date(2027, 1, 8), promised=date(2027, 1, 7)), vendors=(Vendor("v"),)
    )
    assert where == 'jobs[0] "a".promised'
    assert what == "is 2027-01-07, before it was sent (2027-01-08)"


def test_promised_for_the_day_it_was_sent_is_fine():
    day = date(2027, 1, 8)
    assert faults(away(sent=day, promised=day), vendors=(Vendor("v"),)) == ()


def test_finished_before_it_was_started():
    where, what = only(
        job(state="done", started=NOW, finished=NOW - timedelta(hours=1))
    )
    assert where == 'jobs[0] "a".finished'
    assert what == "is 2027-01-11T07:00, before it was started (2027-01-11T08:00)"


def test_not_before_a_day_after_it_is_needed():
    where, what = only(job(not_before=datetime(2027, 2, 2), needed_by=date(2027, 2, 1)))
    assert where == 'jobs[0] "a".not_before'
    assert what == "is 2027-02-02T00:00, after the day it is needed (2027-02-01)"


def test_not_before_a_moment_of_the_day_it_is_needed_is_fine():
    assert (
        faults(job(not_before=datetime(2027, 2, 1, 9), needed_by=date(2027, 2, 1)))
        == ()
    )


@pytest.mark.parametrize(
    ("name", "given"),
    [
        ("finished", job(state="done", finished=NOW + timedelta(minutes=15))),
        ("started", job(state="under way", started=NOW + timedelta(minutes=15))),
        ("sent", away(sent=date(2027, 1, 12))),
    ],
)
def test_what_has_happened_cannot_be_still_to_come(name, given):
    where, what = only(given, vendors=(Vendor("v"),))
    assert where == f'jobs[0] "a".{name}'
    assert "which is still to come (now is 2027-01-11T08:00)" in what
    state = "sent" if name == "sent" else given.state
    fix = faults(given, vendors=(Vendor("v"),))[0].fix
    assert fix == f"Correct it; until then the job is not {state}."


def test_what_happened_just_now_is_fine():
    assert faults(job(state="done", started=NOW, finished=NOW)) == ()
    assert faults(away(sent=NOW.date()), vendors=(Vendor("v"),)) == ()


def test_more_pieces_back_than_went():
    where, what = only(away(pieces=4, pieces_back=5), vendors=(Vendor("v"),))
    assert where == 'jobs[0] "a".pieces_back'
    assert what == "is 5, more than the 4 that went"


def test_all_pieces_back_is_fine():
    assert faults(away(pieces=4, pieces_back=4), vendors=(Vendor("v"),)) == ()


def test_a_mark_is_never_under_way():
    where, what = only(job(kind="mark", state="under way"))
    assert where == 'jobs[0] "a".state'
    assert what == 'is "under way", but a mark takes no time'


def test_a_job_that_waits_for_itself():
    where, what = only(job(after=after("a")))
    assert (where, what) == ('jobs[0] "a".after[0]', "lets the job wait for itself")


def test_the_same_link_twice():
    where, what = only(job("a"), job("b", after=(Link("a"), Link("a", wait_days=1))))
    assert where == 'jobs[1] "b".after[1]'
    assert what == 'waits for "a" a second time in the same way'


def test_two_kinds_of_link_to_one_job_are_fine():
    both = (Link("a", "with"), Link("a", "by"))
    assert faults(job("a"), job("b", after=both)) == ()


def test_a_link_from_one_car_to_another_is_fine():
    cars = (Build("q1"), Build("q2"))
    pair = (job("a", build="q1"), job("b", build="q2", after=after("a")))
    assert faults(*pair, builds=cars) == ()


def test_a_vendor_is_not_needed_for_outside_work():
    assert faults(away(vendor=None)) == ()


def test_a_named_person_without_the_trade():
    where, what = only(
        job(person="ana", trade="weld"), people=(Person("ana", trades={"trim": 3}),)
    )
    assert where == 'jobs[0] "a".person'
    assert what == 'is "ana", who does not have the trade "weld"'


@pytest.mark.parametrize(("has", "wanted"), [(1, None), (2, 3), (1, 2)])
def test_a_named_person_not_up_to_the_level(has, wanted):
    """Without a level, working alone (2) is asked for."""
    where, what = only(
        job(person="ana", trade="weld", trade_level=wanted),
        people=(Person("ana", trades={"weld": has}),),
    )
    assert where == 'jobs[0] "a".person'
    assert what == (
        f'is "ana", level {has} in "weld", where level {wanted or 2} is needed'
    )


@pytest.mark.parametrize(("has", "wanted"), [(2, None), (3, 3), (1, 1)])
def test_a_named_person_just_up_to_the_level(has, wanted):
    who = (Person("ana", trades={"weld": has}),)
    given = job(person="ana", trade="weld", trade_level=wanted)
    assert faults(given, people=who) == ()


def test_anybody_may_be_named_where_no_trade_is_asked_for():
    assert faults(job(person="ana"), people=(Person("ana"),)) == ()


def test_a_done_job_keeps_whoever_did_it():
    assert (
        faults(job(person="ana", trade="weld", state="done"), people=(Person("ana"),))
        == ()
    )


def test_more_of_a_place_than_it_holds():
    uses = (PlaceUse("ramp", 2), PlaceUse("ramp", 1))
    where, what = only(job(places=uses), places=(Place("ramp", capacity=2),))
    assert where == 'jobs[0] "a".places'
    assert what == 'uses 3 of "ramp", which holds 2'


# consignments and rings


def together(*jobs, names=("a", "b"), vendors=("v",)):
    return plan(
        *jobs,
        vendors=tuple(Vendor(one) for one in vendors),
        consignments=(Consignment("c1", "v", names),),
    )


def the_fault(given):
    found = check_plan(given)
    assert len(found) == 1, found
    return found[0].where, found[0].what


def test_jobs_of_one_vendor_travel_together():
    assert check_plan(together(away("a"), away("b"))) == ()


def test_only_outside_jobs_travel():
    where, what = the_fault(together(away("a"), job("b")))
    assert where == 'consignments[0] "c1".jobs[1]'
    assert what == 'is "b", a job of kind "bench"'


def test_a_consignment_goes_to_one_vendor():
    given = together(away("a"), away("b", vendor="w"), vendors=("v", "w"))
    where, what = the_fault(given)
    assert where == 'consignments[0] "c1".jobs[1]'
    assert what == 'is "b", which goes to "w", not "v"'


def test_a_job_travels_once():
    given = replace(
        together(away("a"), away("b")),
        consignments=(
            Consignment("c1", "v", ("a", "b")),
            Consignment("c2", "v", ("b",)),
        ),
    )
    where, what = the_fault(given)
    assert where == 'consignments[1] "c2".jobs[0]'
    assert what == 'is "b", already in consignments[0] "c1"'


def test_a_job_cannot_travel_with_the_one_it_waits_for():
    where, what = the_fault(together(away("a"), away("b", after=after("a"))))
    assert where == 'consignments[0] "c1".jobs'
    assert what == "travel together, but wait for each other: a → b"


def test_nor_with_one_it_waits_for_by_way_of_others():
    given = together(
        away("a"),
        job("x", after=after("a")),
        job("y", after=after("x")),
        away("b", after=after("y")),
    )
    where, what = the_fault(given)
    assert where == 'consignments[0] "c1".jobs'
    assert what == "travel together, but wait for each other: a → x → y → b"


def test_two_consignments_that_wait_for_each_other():
    """d waits for a and b for c; a travels with b, c with d: nothing can leave."""
    given = replace(
        together(
            away("a"),
            away("b", after=after("c")),
            away("c"),
            away("d", after=after("a")),
        ),
        consignments=(
            Consignment("c1", "v", ("a", "b")),
            Consignment("c2", "v", ("c", "d")),
        ),
    )
    where, what = the_fault(given)
    assert where == 'consignments[0] "c1".jobs'
    assert what == (
        "travel together, but wait for each other: a → d (leaves with c) → b"
    )


def test_jobs_in_a_ring_are_named_in_order():
    where, what = only(
        job("fit", after=after("plate")),
        job("weld", after=after("fit")),
        job("plate", after=after("weld")),
        job("beside", after=after("plate")),
    )
    assert where == 'jobs[0] "fit".after'
    assert what == "waits for itself in a ring: fit → weld → plate → fit"


def test_every_kind_of_link_counts_for_a_ring():
    pair = (job("a", after=(Link("b", "with"),)), job("b", after=(Link("a", "by"),)))
    assert only(*pair)[1] == "waits for itself in a ring: a → b → a"


def test_two_separate_rings_are_two_faults():
    found = faults(
        job("a", after=after("b")),
        job("b", after=after("a")),
        job("c", after=after("d")),
        job("d", after=after("c")),
    )
    assert [one.what.split(": ")[1] for one in found] == ["a → b → a", "c → d → c"]


def test_a_ring_and_a_consignment_that_cannot_leave_are_both_named():
    given = together(
        away("a"),
        away("b", after=after("a")),
        job("x", after=after("y")),
        job("y", after=after("x")),
    )
    found = check_plan(given)
    assert [one.where for one in found] == [
        'jobs[2] "x".after',
        'consignments[0] "c1".jobs',
    ]


def test_a_ring_of_a_thousand_names_its_ends_and_counts_the_rest():
    ring = [job(f"j{n}", after=after(f"j{(n - 1) % 1000}")) for n in range(1000)]
    where, what = only(*ring)
    assert where == 'jobs[0] "j0".after'
    assert "j0 → j1 → j2" in what
    assert what.endswith("j998 → j999 → j0")
    assert "(941 more)" in what  # 1001 names, 30 shown at each end


def test_a_ring_of_59_is_named_in_full():
    ring = [job(f"j{n}", after=after(f"j{(n - 1) % 59}")) for n in range(59)]
    assert only(*ring)[1].count("→") == 59


def test_reading_a_file_raises_all_of_them_at_once():
    document = {"jobs": [{"id": "a", "build": "q"}, {"id": "a", "after": ["b"]}]}
    with pytest.raises(PlanError) as raised:
        read_plan(document)
    assert [one.where for one in raised.value.faults] == [
        'jobs[1] "a"',
        'jobs[0] "a".build',
        'jobs[1] "a".after[0]',
        'jobs[0] "a"',
        'jobs[1] "a"',
    ]
    assert str(raised.value).count("\n") == 4
