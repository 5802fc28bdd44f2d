"""Plan files: what is read, what is written, and that the two agree."""

import json
from dataclasses import replace
from datetime import date, datetime, timedelta

import holidays
import pytest
import time_machine
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from scheduling.formats import check_holiday_calendar, read_span
from scheduling.plan import Estimate, Hours, Link, Place, PlaceUse, Plan, Show, Span
from scheduling.plan_checks import check_plan
from scheduling.plan_file import dump_plan, read_plan, write_plan
from scheduling.plan_shape import schema
from tests.scheduling.strategies import valid_plans

SLOW = settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)

# the plan file's own published example, as plain data
EXAMPLE = {
    "format": "workshop-plan",
    "version": 1,
    "now": "2027-01-11T08:00",
    "timezone": "Europe/London",
    "reading": "one-in-ten",
    "seed": 7,
    "samples": 10000,
    "calendars": {
        "shop": {
            "week": {"mon": ["08:00-12:15", "13:00-16:45"], "fri": ["08:00-13:00"]},
            "holidays": "GB-ENG",
            "closed": ["2027-03-26/2027-03-29"],
            "open": {"2027-05-22": ["08:00-13:00"]},
        },
        "always": {"elapsed": True},
    },
    "people": [
        {
            "id": "ana",
            "name": "Ana",
            "calendar": "shop",
            "trades": {"weld": 3, "panel": 2},
            "away": ["2027-02-08/2027-02-12"],
            "pace": {"panel": 1.5},
        }
    ],
    "places": [{"id": "booth", "capacity": 1, "calendar": "shop"}],
    "vendors": [
        {
            "id": "plater",
            "name": "Plater",
            "calendar": "shop",
            "closed": ["2027-04-02/2027-04-16"],
            "minimum_charge": 120,
            "slots": {"every_working_days": 20, "from": "2027-02-01"},
            "history": [{"quoted_days": 10, "actual_days": 14}],
            "reject_chance": 0.05,
        }
    ],
    "levels": ["on the stand", "running", "road-ready", "complete"],
    "builds": [{"id": "q114", "name": "1967 coupe", "rank": 1}],
    "shows": [
        {
            "id": "summer",
            "name": "Summer show",
            "move_in": "2027-06-11T16:00",
            "entries": [{"build": "q114", "level": "complete"}],
        }
    ],
    "jobs": [
        {
            "id": "tank-fit",
            "build": "q114",
            "title": "Trial fit tank with exhaust",
            "kind": "check",
            "trade": "weld",
            "trade_level": 2,
            "people": 1,
            "estimate": {"low": 2, "likely": 4, "high": 8},
            "level": "running",
            "area": "engine bay",
            "after": ["exhaust-back", {"job": "tank-parts", "wait_hours": 0}],
        },
        {
            "id": "tank-weld",
            "build": "q114",
            "title": "Weld tank",
            "kind": "bench",
            "trade": "weld",
            "trade_level": 3,
            "commitment": True,
            "estimate": {"low": 6, "likely": 8, "high": 16},
            "level": "running",
            "after": ["tank-fit"],
            "places": ["booth"],
        },
        {
            "id": "tank-anodise",
            "build": "q114",
            "title": "Anodise tank",
            "kind": "outside",
            "vendor": "plater",
            "estimate": {"low": 5, "likely": 10, "high": 20},
            "after": ["tank-weld"],
            "level": "running",
            "sent": None,
            "promised": None,
            "pieces": 1,
        },
        # the two jobs the example's first link names
        {"id": "exhaust-back", "estimate": {"likely": 1}},
        {"id": "tank-parts", "kind": "order", "estimate": {"likely": 5}},
    ],
    "consignments": [
        {"id": "c1", "vendor": "plater", "jobs": ["tank-anodise"], "leaves": None}
    ],
}


def job(**keys):
    return {"now": "2027-01-11T08:00", "jobs": [{"id": "a", **keys}]}


def only_job(**keys):
    return read_plan(job(**{"estimate": {"likely": 1}, **keys})).jobs[0]


def test_the_schema_is_itself_a_valid_schema():
    """JSON Schema draft 2020-12, by the jsonschema library's own meta-schema."""
    Draft202012Validator.check_schema(schema())


def test_the_example_reads_key_for_key():
    plan = read_plan(json.dumps(EXAMPLE))
    shop, always = plan.calendars
    assert plan.now == datetime(2027, 1, 11, 8, 0)
    assert (plan.timezone, plan.reading, plan.seed, plan.samples) == (
        "Europe/London",
        "one-in-ten",
        7,
        10000,
    )
    assert shop.week["mon"] == (Hours(480, 735), Hours(780, 1005))
    assert shop.holidays == "GB-ENG"
    assert shop.closed == (Span(date(2027, 3, 26), date(2027, 3, 29)),)
    assert shop.open == {date(2027, 5, 22): (Hours(480, 780),)}
    assert (always.id, always.elapsed) == ("always", True)
    ana = plan.people[0]
    assert (ana.name, ana.calendar, ana.trades) == (
        "Ana",
        "shop",
        {"weld": 3, "panel": 2},
    )
    assert ana.away == (Span(date(2027, 2, 8), date(2027, 2, 12)),)
    assert ana.pace == {"panel": 1.5}
    assert plan.places == (Place("booth", capacity=1, calendar="shop"),)
    plater = plan.vendors[0]
    assert plater.slots is not None
    assert (plater.slots.every_working_days, plater.slots.first) == (
        20,
        date(2027, 2, 1),
    )
    assert (plater.history[0].quoted_days, plater.history[0].actual_days) == (10, 14)
    assert (plater.minimum_charge, plater.reject_chance) == (120, 0.05)
    assert plan.shows[0].move_in == datetime(2027, 6, 11, 16, 0)
    assert plan.shows[0].entries[0].level == "complete"
    fit, weld, anodise = plan.jobs[:3]
    assert fit.after == (Link("exhaust-back"), Link("tank-parts"))
    assert fit.estimate == Estimate(likely=4, low=2, high=8)
    assert weld.places == (PlaceUse("booth"),)
    assert weld.commitment
    assert (anodise.vendor, anodise.sent, anodise.pieces) == ("plater", None, 1)
    assert plan.consignments[0].jobs == ("tank-anodise",)


def test_the_example_means_the_same_as_text_bytes_and_mapping():
    text = json.dumps(EXAMPLE)
    plan = read_plan(EXAMPLE)
    assert read_plan(text) == read_plan(text.encode()) == plan
    assert read_plan(b"\xef\xbb\xbf" + text.encode()) == plan
    assert read_plan("\ufeff" + text) == plan


def test_a_plan_of_ids_likely_times_and_links_is_valid():
    plan = read_plan(
        {
            "jobs": [
                {"id": "a", "estimate": {"likely": 3}},
                {"id": "b", "estimate": {"likely": 2}, "after": ["a"]},
            ]
        }
    )
    assert [one.id for one in plan.jobs] == ["a", "b"]
    assert plan.calendars == ()


def test_the_empty_plan_is_valid_and_stays_small():
    plan = read_plan("{}")
    assert plan == Plan(now=plan.now)
    assert list(write_plan(plan)) == ["format", "version", "now"]


@time_machine.travel("2027-07-01T09:52:01Z", tick=False)
def test_without_now_it_is_the_next_quarter_hour_of_local_time():
    """09:52 in Greenwich is 10:52 in London in summer, so 11:00."""
    plan = read_plan({"timezone": "Europe/London"})
    assert plan.now == datetime(2027, 7, 1, 11, 0)


@time_machine.travel("2027-12-31T23:46:00Z", tick=False)
def test_rounding_up_may_turn_the_year():
    assert read_plan({}).now == datetime(2028, 1, 1, 0, 0)


@time_machine.travel("2027-07-01T10:45:00Z", tick=False)
def test_a_whole_quarter_hour_is_left_as_it_is():
    assert read_plan({}).now == datetime(2027, 7, 1, 10, 45)


def test_a_single_closed_day_is_a_span_of_one():
    assert read_span("2027-03-26") == Span(date(2027, 3, 26), date(2027, 3, 26))


def test_a_bare_day_to_start_from_means_midnight():
    assert only_job(not_before="2027-03-01").not_before == datetime(2027, 3, 1)
    assert only_job(not_before="2027-03-01T09:30").not_before == datetime(
        2027, 3, 1, 9, 30
    )


def test_a_bare_day_to_leave_means_midnight():
    plan = read_plan(
        {
            **job(kind="outside", vendor="v", estimate={"likely": 1}),
            "vendors": [{"id": "v"}],
            "consignments": [
                {"id": "c", "vendor": "v", "jobs": ["a"], "leaves": "2027-02-01"}
            ],
        }
    )
    assert plan.consignments[0].leaves == datetime(2027, 2, 1)


def test_midnight_closes_a_day():
    plan = read_plan({"calendars": {"c": {"week": {"mon": ["22:00-24:00"]}}}})
    assert plan.calendars[0].week["mon"] == (Hours(1320, 1440),)
    assert write_plan(plan)["calendars"]["c"]["week"] == {"mon": ["22:00-24:00"]}


def test_a_weekday_without_hours_is_kept_as_closed():
    week = {"mon": ["08:00-16:00"], "sat": []}
    plan = read_plan({"calendars": {"c": {"week": week}}})
    assert write_plan(plan)["calendars"]["c"]["week"] == week


@pytest.mark.parametrize(
    ("reading", "vendor", "build"), [("one-in-ten", 0.25, 0.5), ("ends", 0.0, 0.5)]
)
def test_a_factor_left_unsaid_is_the_readings_usual_one(reading, vendor, build):
    plan = read_plan({"reading": reading, "factors": {"build": 0.5}})
    assert plan.factors is not None
    assert (plan.factors.vendor, plan.factors.build) == (vendor, build)


def test_whole_numbers_may_be_written_with_a_point():
    assert only_job(people=2.0).people == 2
    assert isinstance(only_job(people=2.0).people, int)


def test_links_and_places_are_written_as_bare_ids_where_that_says_it_all():
    document = {
        "now": "2027-01-11T08:00",
        "places": [{"id": "ramp", "capacity": 2}],
        "jobs": [
            {"id": "a", "estimate": {"likely": 1}},
            {
                "id": "b",
                "estimate": {"likely": 1.5},
                "after": ["a", {"job": "a", "link": "by", "wait_days": 2}],
                "places": ["ramp"],
            },
        ],
    }
    assert write_plan(read_plan(document)) == {
        "format": "workshop-plan",
        "version": 1,
        **document,
    }


def test_only_what_differs_is_written_id_first():
    written = write_plan(
        read_plan(job(estimate={"likely": 2.0}, kind="bench", people=1, note="x"))
    )
    assert json.dumps(written["jobs"]) == (
        '[{"id": "a", "estimate": {"likely": 2}, "note": "x"}]'
    )


def test_a_show_without_a_name_is_read_and_written_without():
    plan = read_plan({"shows": [{"id": "s", "move_in": "2027-06-11T16:00"}]})
    assert plan.shows == (Show("s", "", datetime(2027, 6, 11, 16, 0)),)
    assert write_plan(plan)["shows"] == [{"id": "s", "move_in": "2027-06-11T16:00"}]


def test_the_text_keeps_letters_and_ends_with_a_line_break():
    text = dump_plan(read_plan(job(kind="mark", title="Türdichtung → prüfen")))
    assert "Türdichtung → prüfen" in text
    assert text.endswith("}\n")
    assert '\n "now": "2027-01-11T08:00",\n' in text


def test_the_first_calendar_stays_first():
    week = {"week": {"mon": ["08:00-16:00"]}}
    plan = read_plan({"calendars": {"z": week, "a": week}})
    assert [one.id for one in read_plan(dump_plan(plan)).calendars] == ["z", "a"]


@SLOW
@given(valid_plans())
def test_a_written_plan_reads_back_as_the_same_plan(plan):
    assert check_plan(plan) == ()
    assert read_plan(write_plan(plan)) == plan
    assert read_plan(dump_plan(plan)) == plan


@SLOW
@given(valid_plans())
def test_writing_what_was_read_changes_nothing_more(plan):
    once = dump_plan(plan)
    assert dump_plan(read_plan(once)) == once


@SLOW
@given(valid_plans())
def test_what_is_written_fits_the_schema_as_published(plan):
    """By the jsonschema library on the file as it stands, references and all."""
    Draft202012Validator(schema()).validate(write_plan(plan))


def test_5000_jobs_in_one_chain_are_read():
    chain = [
        {"id": f"j{n}", "estimate": {"likely": 1}, "after": [f"j{n - 1}"] if n else []}
        for n in range(5000)
    ]
    assert len(read_plan(json.dumps({"jobs": chain})).jobs) == 5000


@pytest.mark.parametrize("code", ["GB", "GB-ENG", "DE-BY", "US-CA", "NZ", "FR-Zone A"])
def test_a_known_public_holiday_calendar_can_be_looked_up(code):
    """By the holidays library itself: it must know every code let through."""
    check_holiday_calendar(code)
    country, _, part = code.partition("-")
    assert holidays.country_holidays(country, subdiv=part or None, years=2027)


@pytest.mark.parametrize("code", ["gb", "XX", "GB-", "GB-BY", "", "-ENG"])
def test_an_unknown_public_holiday_calendar_is_refused(code):
    with pytest.raises(ValueError, match=f"^{code}$"):
        check_holiday_calendar(code)


def test_a_plan_made_elsewhere_is_written_to_the_minute():
    plan = replace(read_plan("{}"), now=datetime(2027, 1, 11, 8, 0, 59))
    assert read_plan(dump_plan(plan)).now == plan.now - timedelta(seconds=59)
