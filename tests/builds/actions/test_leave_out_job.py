"""Taking a job out of scope and putting it back."""

import pytest

from builds.actions.jobs import leave_out_job, restore_job
from builds.models import Event, Kind, State
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory


def test_it_is_left_out_and_put_back(lena, car):
    job = JobFactory(build=car)
    with assert_one_event("left out job"):
        leave_out_job(by=lena, job=job, words="Next winter")
    job.refresh_from_db()
    assert job.state == State.LEFT_OUT
    with assert_one_event("restored job"):
        restore_job(by=lena, job=job)
    job.refresh_from_db()
    assert job.state == State.OPEN


def test_work_that_had_begun_comes_back_under_way(lena, car):
    job = JobFactory(build=car, state=State.UNDER_WAY, started="2027-01-08T08:00")
    leave_out_job(by=lena, job=job)
    restore_job(by=lena, job=job)
    job.refresh_from_db()
    assert job.state == State.UNDER_WAY


def test_leaving_out_twice_leaves_out_once(lena, car):
    job = JobFactory(build=car)
    leave_out_job(by=lena, job=job)
    leave_out_job(by=lena, job=job)
    assert Event.objects.count() == 1


def test_a_safety_job_is_never_left_out(lena, car):
    with assert_refused("It is never left out"):
        leave_out_job(by=lena, job=JobFactory(build=car, safety=True))


def test_what_is_done_stays(lena, car):
    with assert_refused("What is done stays"):
        leave_out_job(by=lena, job=JobFactory(build=car, state=State.DONE))


@pytest.mark.parametrize("between", [False, True])
def test_a_check_before_work_that_cannot_be_undone_stays(lena, car, between):
    check = JobFactory(build=car, kind=Kind.CHECK)
    last = JobFactory(build=car, after=[check]) if between else check
    JobFactory(build=car, title="Weld", commitment=True, after=[last])
    with assert_refused("“Weld” cannot be undone and waits for this check"):
        leave_out_job(by=lena, job=check)


def test_a_check_before_ordinary_work_may_go(lena, car):
    check = JobFactory(build=car, kind=Kind.CHECK)
    JobFactory(build=car, after=[check])
    leave_out_job(by=lena, job=check)
