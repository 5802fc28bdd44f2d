"""Rings and working days."""

from datetime import date, datetime

import numpy as np
import pytest

from builds.models import VendorClosure
from builds.planning.rules import find_faults, find_ring
from builds.planning.waits import VendorDays, wait_ends
from tests.factories.job import JobFactory
from tests.factories.vendor import VendorFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def test_a_link_that_closes_a_ring_is_told_with_the_jobs_in_it(car):
    a = JobFactory(key="a", title="Fit", build=car)
    b = JobFactory(key="b", title="Weld", build=car, after=[a])
    c = JobFactory(key="c", title="Plate", build=car, after=[b])
    assert sorted(find_ring(job=a, after=c)) == ["Fit", "Plate", "Weld"]


def test_a_job_after_itself_is_a_ring_of_one(car):
    a = JobFactory(key="a", title="Fit", build=car)
    assert find_ring(job=a, after=a) == ["Fit"]


def test_a_shortcut_is_no_ring(car):
    a = JobFactory(key="a", build=car)
    b = JobFactory(key="b", build=car, after=[a])
    c = JobFactory(key="c", build=car, after=[b])
    assert find_ring(job=c, after=a) == []


def test_a_sound_plan_has_no_faults(car):
    JobFactory(build=car)
    assert find_faults() == ()


@pytest.mark.parametrize(
    ("first", "last"),
    [("2027-01-11", "2027-01-25"), ("2027-01-13", "2027-03-03")],
)
def test_vendor_days_are_counted_as_numpy_counts_them(first, last):
    """Weekdays after the first day up to the last: `numpy.busday_count`."""
    VendorFactory(key="plater")
    expected = np.busday_count(np.datetime64(first) + 1, np.datetime64(last) + 1)
    days = VendorDays("plater").taken(
        date.fromisoformat(first), date.fromisoformat(last)
    )
    assert days == expected


def test_a_vendor_who_is_shut_takes_no_days():
    vendor = VendorFactory(key="plater")
    VendorClosure.objects.create(vendor=vendor, first="2027-01-18", last="2027-01-22")
    # Two weeks, one of them shut: Tuesday to Friday and the last Monday.
    assert VendorDays("plater").taken(date(2027, 1, 11), date(2027, 1, 25)) == 5


def test_a_wait_in_hours_runs_through_the_night(car):
    glue = JobFactory(key="glue", build=car, state="done", finished="2027-01-10T20:00")
    trim = JobFactory(key="trim", build=car)
    trim.links.create(before=glue, wait_hours=24)
    assert wait_ends("trim") == datetime(2027, 1, 11, 20, 0)


def test_a_wait_in_days_runs_in_working_days(car):
    # Friday at 16:30 plus one working day: the whole of Monday.
    glue = JobFactory(key="glue", build=car, state="done", finished="2027-01-08T16:30")
    trim = JobFactory(key="trim", build=car)
    trim.links.create(before=glue, wait_days=1)
    assert wait_ends("trim") == datetime(2027, 1, 11, 16, 30)


def test_a_wait_that_is_over_is_none(car):
    glue = JobFactory(key="glue", build=car, state="done", finished="2027-01-09T08:00")
    trim = JobFactory(key="trim", build=car)
    trim.links.create(before=glue, wait_hours=24)
    assert wait_ends("trim") is None
