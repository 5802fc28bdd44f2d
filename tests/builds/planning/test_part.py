"""The check of a part finds what the check of the whole finds, and asks far less."""

from collections import Counter
from datetime import date, datetime

import pytest
from django.db import IntegrityError, transaction
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from builds.models import (
    Consignment,
    ConsignmentJob,
    Job,
    Kind,
    Link,
    LinkKind,
    Person,
    Place,
    PlaceUse,
    State,
    Vendor,
)
from builds.planning.rules import find_faults, find_faults_of
from builds.planning.store import store_plan
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory
from tests.scheduling.strategies import valid_plans

pytestmark = pytest.mark.django_db

DAYS = st.sampled_from([date(2026, 3, 2), date(2027, 3, 2), date(2035, 3, 2)])
MOMENTS = DAYS.map(lambda day: datetime(day.year, day.month, day.day, 9))
FIELDS = {
    "state": st.sampled_from(State.values),
    "kind": st.sampled_from(Kind.values),
    "likely": st.sampled_from([None, 0.0, 4.0]),
    "started": st.none() | MOMENTS,
    "finished": st.none() | MOMENTS,
    "not_before": st.none() | MOMENTS,
    "needed_by": st.none() | DAYS,
    "sent": st.none() | DAYS,
    "promised": st.none() | DAYS,
    "pieces": st.none() | st.integers(0, 9),
    "pieces_back": st.integers(0, 9),
    "pieces_wrong": st.integers(0, 9),
    "level": st.sampled_from([None, "running", "flying"]),
    "trade": st.sampled_from([None, "weld", "paint"]),
    "trade_level": st.sampled_from([None, 1, 3]),
    "way": st.sampled_from([None, "ours", "theirs"]),
}
ANY = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[
        HealthCheck.function_scoped_fixture,
        HealthCheck.too_slow,
        HealthCheck.data_too_large,
        HealthCheck.filter_too_much,
    ],
)


def drawn(data, rows):
    found = list(rows)
    assume(found)
    return data.draw(st.sampled_from(found))


def change_fields(data, job):
    names = data.draw(st.sets(st.sampled_from(sorted(FIELDS)), min_size=1, max_size=3))
    for name in sorted(names):
        setattr(job, name, data.draw(FIELDS[name], label=name))
    job.save()


def give_to_somebody(data, job):
    job.person = drawn(data, Person.objects.all())
    job.save()


def send_elsewhere(data, job):
    job.vendor = data.draw(st.sampled_from([None, *Vendor.objects.all()]))
    job.save()


def rob_it_for_a_car(data, job):
    job.robbed_for = job.build
    job.save()


def fill_a_place(data, job):
    place = drawn(data, Place.objects.all())
    PlaceUse.objects.create(job=job, place=place, uses=data.draw(st.integers(1, 9)))


def wait_for_another(data, job):
    kind = data.draw(st.sampled_from(LinkKind.values))
    for other in data.draw(st.sets(st.sampled_from(list(Job.objects.all())))):
        Link.objects.create(job=job, before=other, kind=kind)


def travel_along(data, job):
    load = drawn(data, Consignment.objects.all())
    ConsignmentJob.objects.create(consignment=load, job=job)


EDITS = (
    change_fields,
    give_to_somebody,
    send_elsewhere,
    rob_it_for_a_car,
    fill_a_place,
    wait_for_another,
    travel_along,
)


def told(faults):
    """Give what is said, of rings only that there are: they may be begun anywhere."""
    ring = ("in a ring", "travel together, but")
    return Counter(
        "ring" if any(words in one.what for words in ring) else one.what
        for one in faults
    )


@ANY
@given(plan=valid_plans(), edit=st.sampled_from(EDITS), data=st.data())
def test_of_any_edit_of_a_job_both_find_the_same(db, plan, edit, data):
    store_plan(plan, pin_clock=True)
    job = drawn(data, Job.objects.all())
    try:
        with transaction.atomic():
            edit(data, job)
    except IntegrityError:  # the database keeps that rule
        assume(False)
    whole, part = (
        told(find_faults(typed=[job.key])),
        told(find_faults_of([job], typed=True)),
    )
    assert set(whole) == set(part)
    assert whole - Counter(ring=whole["ring"]) == part - Counter(ring=part["ring"])
    assert told(find_faults_of([job], typed=False)) <= part


@ANY
@given(plan=valid_plans(), data=st.data())
def test_of_any_jobs_that_travel_together_both_find_the_same(db, plan, data):
    store_plan(plan, pin_clock=True)
    vendor = drawn(data, Vendor.objects.all())
    some = list(Job.objects.filter(consignments=None))
    assume(some)
    jobs = sorted(data.draw(st.sets(st.sampled_from(some), min_size=1)), key=str)
    load = Consignment.objects.create(key="a new one", vendor=vendor)
    for job in jobs:
        ConsignmentJob.objects.create(consignment=load, job=job)
    whole, part = told(find_faults(typed=())), told(find_faults_of(jobs, typed=False))
    assert set(whole) == set(part)
    assert whole - Counter(ring=whole["ring"]) == part - Counter(ring=part["ring"])


def test_what_somebody_typed_is_read_as_a_file_would_read_it(shop, car):
    job = JobFactory(build=car, title="x" * 4001)
    assert find_faults_of([job], typed=True)
    assert find_faults_of([job], typed=True) == find_faults()
    assert find_faults_of([job], typed=False) == ()


@pytest.mark.parametrize("cars", [1, 9])
def test_it_asks_as_much_however_many_cars_there_are(
    shop, django_assert_num_queries, cars
):
    for _ in range(cars):
        car = BuildFactory()
        fit = JobFactory(build=car)
        weld = JobFactory(build=car, after=[fit])
        job = JobFactory(build=car, after=[fit, weld])
    with django_assert_num_queries(13):
        assert find_faults_of([job], typed=True) == ()
