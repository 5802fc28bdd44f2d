"""Putting down, finishing, reopening and reporting trouble."""

import pytest

from builds.actions.errors import Refused
from builds.actions.work import finish_job, reopen_job, report_trouble, stop_job
from builds.models import Event, LinkKind, State
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory


@pytest.fixture
def job(car):
    return JobFactory(
        build=car, title="Weld", state=State.UNDER_WAY, started="2027-01-08T08:00"
    )


def test_putting_it_down_keeps_the_hours_to_go_and_why(tom, job):
    with assert_one_event("stopped job"):
        stop_job(by=tom, job=job, remaining=2.5, reason="no gas", words="Monday")
    job.refresh_from_db()
    assert (job.state, job.remaining) == (State.UNDER_WAY, 2.5)
    event = Event.objects.get()
    assert (event.after["reason"], event.words) == ("no gas", "Monday")


def test_only_work_under_way_is_put_down(tom, car):
    with assert_refused("not under way"):
        stop_job(by=tom, job=JobFactory(build=car), remaining=1, reason="x")


@pytest.mark.parametrize("remaining", [-1, float("nan"), float("inf")])
def test_hours_to_go_that_cannot_be_are_refused(tom, job, remaining):
    with assert_refused("nought or more"):
        stop_job(by=tom, job=job, remaining=remaining, reason="x")


def test_finishing_ends_it_now_and_keeps_when_it_began(tom, job):
    with assert_one_event("finished job"):
        finish_job(by=tom, job=job)
    job.refresh_from_db()
    assert (job.state, job.remaining) == (State.DONE, None)
    assert job.started.isoformat() == "2027-01-08T08:00:00"
    assert job.finished.isoformat() == "2027-01-11T08:00:00"


def test_finishing_twice_finishes_once(tom, job):
    finish_job(by=tom, job=job)
    finish_job(by=tom, job=job)
    assert Event.objects.count() == 1


def test_a_short_job_may_be_finished_without_having_been_started(tom, car):
    job = JobFactory(build=car)
    finish_job(by=tom, job=job)
    job.refresh_from_db()
    assert job.started == job.finished


def test_finishing_does_not_get_round_what_stands_before_it(tom, car):
    job = JobFactory(build=car, after=[JobFactory(build=car, title="Fit")])
    with assert_refused("waits for “Fit”"):
        finish_job(by=tom, job=job)


def test_it_does_not_end_before_a_job_it_may_not_end_before(tom, job, car):
    job.links.create(before=JobFactory(build=car, title="Fit"), kind=LinkKind.BY)
    with assert_refused("may not finish before “Fit”"):
        finish_job(by=tom, job=job)


def test_outside_work_does_not_end_with_pieces_missing(tom, car):
    job = OutsideJobFactory(
        build=car, state=State.UNDER_WAY, sent="2027-01-04", pieces=5, pieces_back=3
    )
    with assert_refused("3 of 5 pieces are back"):
        finish_job(by=tom, job=job)


def test_reopening_takes_back_that_it_is_done(tom, lena, job):
    finish_job(by=tom, job=job)
    with assert_one_event("reopened job"):
        reopen_job(by=lena, job=job, words="Wrong job ticked")
    job.refresh_from_db()
    assert (job.state, job.finished, job.started) == (State.OPEN, None, None)


def test_nothing_is_reopened_under_work_built_on_it(lena, car):
    fit = JobFactory(build=car, state=State.DONE)
    JobFactory(build=car, title="Weld", state=State.UNDER_WAY, after=[fit])
    with assert_refused("“Weld” has begun on top of it"):
        reopen_job(by=lena, job=fit)


def test_trouble_is_written_down_and_changes_nothing_else(tom, job):
    version = job.version
    with assert_one_event("reported trouble"):
        report_trouble(by=tom, job=job, reason="wrong part", words="Left-hand one")
    job.refresh_from_db()
    assert job.version == version
    assert Event.objects.get().after == {"reason": "wrong part"}


def test_what_is_left_out_is_not_finished(tom, car):
    with pytest.raises(Refused):
        finish_job(by=tom, job=JobFactory(build=car, state=State.LEFT_OUT))
