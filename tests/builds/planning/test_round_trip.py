"""Into the database and out again, a plan is the same plan."""

import json

import pytest
from hypothesis import HealthCheck, given, settings

import scheduling
from builds.demo.plan import demo_plan
from builds.models import Job
from builds.planning.exchange import export_plan, import_plan
from builds.planning.problem import build_plan
from builds.planning.store import store_plan
from tests.scheduling.strategies import valid_plans

pytestmark = pytest.mark.django_db


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[
        HealthCheck.function_scoped_fixture,
        HealthCheck.too_slow,
        HealthCheck.data_too_large,
    ],
)
@given(plan=valid_plans())
def test_any_valid_plan_comes_back_as_it_went_in(db, plan):
    store_plan(plan, pin_clock=True)
    assert build_plan() == plan


def test_the_demo_comes_back_as_it_went_in():
    import_plan(demo_plan(), pin_clock=True)
    exported = export_plan()
    assert scheduling.read_plan(exported) == scheduling.read_plan(demo_plan())
    import_plan(exported, pin_clock=True)
    assert export_plan() == exported


def test_the_order_of_the_file_is_kept():
    names = ["z", "a", "m"]
    jobs = [{"id": name, "estimate": {"likely": 1}} for name in names]
    import_plan({"jobs": jobs}, pin_clock=False)
    jobs.insert(1, {"id": "q", "estimate": {"likely": 1}})
    import_plan({"jobs": jobs}, pin_clock=False)
    exported = json.loads(export_plan())
    assert [job["id"] for job in exported["jobs"]] == ["z", "q", "a", "m"]


def test_the_calendar_every_plan_has_may_be_named():
    person = {"id": "ana", "calendar": "always"}
    import_plan({"people": [person]}, pin_clock=False)
    exported = json.loads(export_plan())
    assert exported["people"][0]["calendar"] == "always"
    assert "calendars" not in exported


@pytest.mark.parametrize("copies", [1, 20])
def test_reading_takes_as_many_queries_for_twenty_jobs_as_for_one(
    copies, django_assert_max_num_queries
):
    jobs = [
        {
            "id": f"job-{number}",
            "kind": "outside",
            "estimate": {"likely": 1},
            "vendor": "plater",
            "places": ["booth"],
            "after": [f"job-{number - 1}"] if number else [],
            "promises": [{"date": "2027-02-01"}],
            "pieces": 1,
            "piece_list": [
                {"id": f"iron {number}", "holder": "Ana", "place": "Shelf 2"}
            ],
        }
        for number in range(copies)
    ]
    plan = {
        "people": [{"id": "ana", "trades": {"weld": 2}}],
        "places": [{"id": "booth"}],
        "vendors": [{"id": "plater"}],
        "builds": [{"id": "q"}],
        "shows": [
            {
                "id": "s",
                "name": "S",
                "move_in": "2027-06-01T12:00",
                "entries": [{"build": "q"}],
            }
        ],
        "jobs": jobs,
        "consignments": [
            {"id": f"with {job['id']}", "vendor": "plater", "jobs": [job["id"]]}
            for job in jobs
        ],
    }
    import_plan(plan, pin_clock=False)
    assert Job.objects.count() == copies
    with django_assert_max_num_queries(21):
        build_plan()
