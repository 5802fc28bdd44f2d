"""What the database itself refuses."""

import pytest
from django.db import IntegrityError, transaction

from builds.models import (
    DaysAway,
    Forecast,
    ForecastState,
    Job,
    Link,
    PastReturn,
    PersonTrade,
    PlaceUse,
    ShowEntry,
    User,
    Vendor,
    Workshop,
)
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory
from tests.factories.people import PersonFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory

pytestmark = pytest.mark.django_db


def _two_entries():
    show, build = ShowFactory(), BuildFactory()
    return [ShowEntry(show=show, build=build), ShowEntry(show=show, build=build)]


def _two_trades():
    person = PersonFactory()
    return [PersonTrade(person=person, trade="weld", level=1) for _ in range(2)]


def _self_link():
    job = JobFactory()
    return [Link(job=job, before=job)]


def _two_answers():
    done = {"input_hash": "a" * 64, "state": ForecastState.DONE}
    return [Forecast(**done), Forecast(**done)]


@pytest.mark.parametrize(
    ("rule", "rows"),
    [
        ("one_workshop", lambda: [Workshop(pk=2)]),
        ("role_is_known", lambda: [User(username="x", role="owner")]),
        ("kind_is_known", lambda: [Job(key="x", kind="paint")]),
        ("state_is_known", lambda: [Job(key="x", state="stuck")]),
        ("found_is_known", lambda: [Job(key="x", found="maybe")]),
        ("an_estimate_has_a_likely_figure", lambda: [Job(key="x", low=1)]),
        ("low_is_not_above_likely", lambda: [Job(key="x", low=3, likely=2)]),
        ("high_is_not_below_likely", lambda: [Job(key="x", high=1, likely=2)]),
        ("job_trade_level_is_one_to_three", lambda: [Job(key="x", trade_level=4)]),
        ("a_job_takes_someone", lambda: [Job(key="x", people=0)]),
        ("rework_chance_is_a_chance", lambda: [Job(key="x", rework_chance=1.5)]),
        ("a_job_does_not_wait_for_itself", _self_link),
        (
            "a_wait_is_not_negative",
            lambda: [Link(job=JobFactory(), before=JobFactory(), wait_days=-1)],
        ),
        ("a_car_enters_a_show_once", _two_entries),
        ("a_trade_once_for_each_person", _two_trades),
        (
            "trade_level_is_one_to_three",
            lambda: [PersonTrade(person=PersonFactory(), trade="weld", level=0)],
        ),
        (
            "pace_is_positive",
            lambda: [PersonTrade(person=PersonFactory(), trade="weld", pace=0)],
        ),
        (
            "days_away_end_after_they_begin",
            lambda: [
                DaysAway(person=PersonFactory(), first="2027-02-02", last="2027-02-01")
            ],
        ),
        (
            "a_use_takes_something_up",
            lambda: [PlaceUse(job=JobFactory(), place=PlaceFactory(), uses=0)],
        ),
        (
            "a_slot_rule_has_a_day_and_a_spacing",
            lambda: [Vendor(key="x", slot_every=5)],
        ),
        (
            "a_return_took_some_days",
            lambda: [PastReturn(vendor=VendorFactory(), quoted_days=0, actual_days=1)],
        ),
        ("one_answer_for_each_plan", _two_answers),
    ],
)
def test_the_database_keeps_the_rule(rule, rows):
    *fine, wrong = rows()
    for row in fine:
        row.save()
    with pytest.raises(IntegrityError) as error, transaction.atomic():
        wrong.save(force_insert=True)
    # SQLite names the columns of a unique rule, PostgreSQL the rule itself.
    assert rule in str(error.value) or "UNIQUE" in str(error.value)


def test_a_fixed_estimate_has_no_order_to_keep():
    Job.objects.create(key="x", low=9, likely=2, high=1, fixed=True)


def test_the_role_nobody_chose_sees_least():
    assert User(username="x").role == "customer"
