"""What no act may leave behind, though only what it touched is looked at."""

import json
import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest
from django.db import connection
from django.urls import reverse

from builds.actions.consignments import create_consignment
from builds.actions.jobs import change_job, create_job
from builds.actions.links import add_link
from builds.actions.outside import send_job
from builds.actions.record import record
from builds.actions.work import start_job
from builds.models import Job, Link
from tests.assertions import assert_refused
from tests.builds.actions.half_rings import ROUNDS, refusals
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import PersonFactory
from tests.factories.vendor import VendorFactory

ROOT = Path(__file__).resolve().parents[3]


def test_a_job_that_waits_for_itself(lena, car):
    fit = JobFactory(build=car)
    with assert_refused("ring"):
        add_link(by=lena, job=fit, before=fit)


def test_two_jobs_that_wait_for_each_other(lena, car):
    fit = JobFactory(build=car)
    weld = JobFactory(build=car, after=[fit])
    with assert_refused("ring"):
        add_link(by=lena, job=fit, before=weld)


@pytest.mark.parametrize("cars", [1, 40])
def test_a_ring_of_four_hundred_jobs_over_several_cars(lena, cars):
    rows = [BuildFactory() for _ in range(cars)]
    jobs = [JobFactory(build=rows[number % cars]) for number in range(400)]
    Link.objects.bulk_create(
        Link(job=later, before=job) for job, later in pairwise(jobs)
    )
    with assert_refused("ring"):
        add_link(by=lena, job=jobs[0], before=jobs[-1])
    add_link(by=lena, job=jobs[-1], before=jobs[0])


def test_a_ring_that_closes_because_jobs_travel_together(lena, car):
    vendor = VendorFactory()
    polish = OutsideJobFactory(build=car, vendor=vendor)
    mask = JobFactory(build=car, after=[polish])
    plate = OutsideJobFactory(build=car, vendor=vendor, after=[mask])
    with assert_refused("wait for each other"):
        create_consignment(by=lena, vendor=vendor, jobs=[polish, plate])


def test_a_link_that_closes_a_ring_through_what_travels_together(lena, car):
    vendor = VendorFactory()
    polish, plate = (OutsideJobFactory(build=car, vendor=vendor) for _ in "ab")
    create_consignment(by=lena, vendor=vendor, jobs=[polish, plate])
    mask = JobFactory(build=BuildFactory(), after=[polish])
    with assert_refused("wait for each other"):
        add_link(by=lena, job=plate, before=mask)


def test_a_job_that_travels_is_not_given_to_another_vendor(lena, car):
    plate = OutsideJobFactory(build=car)
    create_consignment(by=lena, vendor=plate.vendor, jobs=[plate])
    plate.refresh_from_db()
    with assert_refused("not"):
        change_job(by=lena, job=plate, fields={"vendor": VendorFactory()})


def test_finished_before_it_was_started(lena, car):
    job = JobFactory(build=car, state="done", started="2027-01-07T08:00")
    Job.objects.filter(pk=job.pk).update(finished="2027-01-06T08:00")
    with assert_refused("before it was started"):
        record(by=lena, verb="changed job", subject=job, job=job, typed=False)


def test_sent_tomorrow(lena, car):
    job = OutsideJobFactory(build=car)
    with assert_refused("still to come"):
        send_job(by=lena, job=job, sent="2027-01-12")


def test_promised_before_it_was_sent(lena, car):
    job = OutsideJobFactory(build=car, sent="2027-01-08", state="under way")
    with assert_refused("before it was sent"):
        change_job(by=lena, job=job, fields={"promised": "2027-01-07"})


def test_somebody_without_the_trade(lena, car):
    tom = PersonFactory(trades=["panel"])
    job = JobFactory(build=car, trade="paint")
    with assert_refused("does not have the trade"):
        change_job(by=lena, job=job, fields={"person": tom})


def test_a_level_the_workshop_does_not_have(lena, car):
    with assert_refused("a level the plan does not have"):
        create_job(by=lena, build=car, title="Weld", likely=4, level="flying")


@pytest.mark.parametrize("before", ["nobody-has-it", "coupe", ""])
def test_a_link_to_a_job_that_is_not_of_this_workshop(lead_client, car, before):
    weld = JobFactory(build=car)
    answer = lead_client.post(
        reverse("link_add", args=[weld.key]), {"before": before, "kind": "after"}
    )
    assert answer.status_code == 422
    assert not Link.objects.exists()


def test_a_fault_of_another_job_holds_nobody_up(lena, car):
    """A plan that went wrong by other means is told with the forecast."""
    wrong = JobFactory(build=car, title="Weld tank")
    Job.objects.filter(pk=wrong.pk).update(likely=None)
    job = JobFactory(build=car)
    assert start_job(by=lena, job=job).state == "under way"
    with assert_refused("no estimate"):
        start_job(by=lena, job=wrong)


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_of_two_who_each_add_half_of_a_ring_one_is_refused():
    if connection.vendor != "postgresql":
        pytest.skip("DATABASE_URL names no PostgreSQL server")
    assert refusals() == [1] * ROUNDS


def test_the_same_in_a_file_of_sqlite(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "tests.builds.actions.half_rings"],
        cwd=ROOT,
        env=os.environ
        | {
            "DATABASE_URL": f"sqlite:///{tmp_path}/ring.sqlite3",
            "DJANGO_SETTINGS_MODULE": "builds.settings",
            "DEBUG": "1",
            "REDIS_URL": "",
            "FORECAST_SAMPLES": "1",
            "FORECAST_SCHEDULES": "1",
        },
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(done.stdout.splitlines()[-1]) == [1] * ROUNDS
