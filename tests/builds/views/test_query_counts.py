"""No page asks the database more often because there is more in it."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.models import Search
from builds.planning.replan import replan
from tests.conftest import client_of
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import PersonFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory

pytestmark = pytest.mark.django_db
MOST = 20
# They read the whole plan besides: whose hours, what a job may wait for, and whether
# it is still the plan that was looked at.
MORE = {"hands": 32, "job_edit": 24, "better_plan": 30}
PAGES = {
    "lead": [
        ("morning",), ("wall",), ("cars",), ("car", "coupe"), ("job", "job-0"),
        ("people",), ("vendors",), ("vendor", "vendor-0"), ("shows",), ("hands",),
        ("person", "person-0"), ("workshop",), ("moved",), ("knock_on", "job-0"),
        ("job_edit", "job-0"), ("exchange",), ("better_plan",),
    ],
    "technician": [("bench",), ("bench_job", "job-0")],
    "customer": [("my_car",)],
}  # fmt: skip


def grow(car, begin: int, end: int) -> None:
    """Add so many jobs, and a tenth as many people, vendors and shows."""
    for number in range(begin, end):
        job = JobFactory(key=f"job-{number}", build=car, trade="panel")
        if number % 10 == 0:
            vendor = VendorFactory(key=f"vendor-{number}")
            OutsideJobFactory(key=f"out-{number}", build=car, vendor=vendor)
            PersonFactory(key=f"person-{number}", trades=["panel"])
            ShowFactory(key=f"show-{number}")
        elif number:
            job.links.create(before_id=job.pk - 1)


def asked(user, pages) -> dict[str, int]:
    """Look twice: the first look may fill what is kept."""
    client = client_of(user)
    found = {}
    for name, *keys in pages:
        address = reverse(name, args=keys)
        client.get(address)
        with CaptureQueriesContext(
            connection,
        ) as context:
            answer = client.get(address)
        assert answer.status_code == 200, address
        found[name] = len(context)
    return found


def test_ten_jobs_and_a_hundred_cost_the_same(lena, tom, carla, car):
    Search.objects.create(state="done", at="2027-01-11T08:00", minutes=5)
    users = {"lead": lena, "technician": tom, "customer": carla}

    def all_pages() -> dict[str, int]:
        replan()
        found = {}
        for role, user in users.items():
            found |= asked(user, PAGES[role])
        return found

    grow(car, 0, 5)
    replan()  # so that there is one before the newest, as later
    grow(car, 5, 10)
    few = all_pages()
    grow(car, 10, 100)
    many = all_pages()
    assert many == few
    over = {one: count for one, count in many.items() if count > MORE.get(one, MOST)}
    assert over == {}
