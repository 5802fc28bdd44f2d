"""Beginning a job, and what stands in the way."""

import pytest

from builds.actions.builds import leave_out_build
from builds.actions.errors import NotReady
from builds.actions.work import start_job
from builds.models import Event, Kind, LinkKind, State
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory


def refresh(job):
    job.refresh_from_db()
    return job


def test_it_is_under_way_from_now_on_in_the_hands_of_who_began_it(tom, car):
    job = JobFactory(build=car)
    with assert_one_event("started job"):
        start_job(by=tom, job=job, person=tom.person)
    job = refresh(job)
    assert (job.state, job.person) == (State.UNDER_WAY, tom.person)
    assert job.started.isoformat() == "2027-01-11T08:00:00"
    event = Event.objects.get()
    assert (event.by, event.job, event.build) == (tom, job, car)
    assert event.before["state"] == "open"
    assert event.after["person"] == "tom"


def test_starting_twice_starts_once(tom, car):
    job = JobFactory(build=car)
    start_job(by=tom, job=job)
    start_job(by=tom, job=job)
    assert Event.objects.count() == 1


def test_it_waits_for_the_job_before_it_by_name(tom, car):
    fit = JobFactory(key="fit", build=car, title="Trial fit")
    job = JobFactory(build=car, title="Weld tank", after=[fit])
    with assert_refused("waits for “Trial fit”") as error:
        start_job(by=tom, job=job)
    assert isinstance(error.value, NotReady)
    assert error.value.waits_for == ("fit",)
    assert refresh(job).state == State.OPEN


def test_it_may_start_when_the_job_before_it_is_done(tom, car):
    fit = JobFactory(build=car, state=State.DONE)
    start_job(by=tom, job=JobFactory(build=car, after=[fit]))


def test_what_is_left_out_passes_the_order_on(tom, car):
    strip = JobFactory(build=car, title="Strip")
    fit = JobFactory(build=car, state=State.LEFT_OUT, after=[strip])
    with assert_refused("waits for “Strip”"):
        start_job(by=tom, job=JobFactory(build=car, after=[fit]))


@pytest.mark.parametrize("state", [State.UNDER_WAY, State.DONE])
def test_a_job_that_starts_with_another_starts_once_that_has(tom, car, state):
    other = JobFactory(build=car, state=state)
    job = JobFactory(build=car)
    job.links.create(before=other, kind=LinkKind.WITH)
    start_job(by=tom, job=job)


def test_a_job_that_starts_with_another_waits_while_that_is_open(tom, car):
    job = JobFactory(build=car)
    job.links.create(before=JobFactory(build=car), kind=LinkKind.WITH)
    with assert_refused("waits for"):
        start_job(by=tom, job=job)


def test_a_job_that_only_ends_with_another_may_start_before_it(tom, car):
    job = JobFactory(build=car)
    job.links.create(before=JobFactory(build=car), kind=LinkKind.BY)
    start_job(by=tom, job=job)


def test_it_waits_out_the_cure(tom, car):
    glue = JobFactory(build=car, state=State.DONE, finished="2027-01-10T20:00")
    job = JobFactory(build=car, title="Trim")
    job.links.create(before=glue, wait_hours=24)
    with assert_refused("must wait until Mon 11 Jan, 20:00"):
        start_job(by=tom, job=job)


@pytest.mark.parametrize("state", [State.OPEN, State.UNDER_WAY, State.LEFT_OUT])
def test_what_cannot_be_undone_waits_for_every_check_near_or_far(lena, car, state):
    """Nobody overrides it, the lead neither."""
    check = JobFactory(build=car, kind=Kind.CHECK, title="Trial fit", state=state)
    clean = JobFactory(build=car, state=State.DONE, after=[check])
    weld = JobFactory(build=car, title="Weld", commitment=True, after=[clean])
    with assert_refused("“Weld” cannot be undone, and “Trial fit” has not been passed"):
        start_job(by=lena, job=weld)


def test_what_cannot_be_undone_starts_when_every_check_is_passed(tom, car):
    check = JobFactory(build=car, kind=Kind.CHECK, state=State.DONE)
    start_job(by=tom, job=JobFactory(build=car, commitment=True, after=[check]))


@pytest.mark.parametrize(
    ("state", "words"), [(State.DONE, "is done"), (State.LEFT_OUT, "left out")]
)
def test_what_is_done_or_left_out_does_not_start(tom, car, state, words):
    with assert_refused(words):
        start_job(by=tom, job=JobFactory(build=car, state=state))


def test_a_job_of_a_car_left_out_does_not_start(tom, lena, car):
    job = JobFactory(build=car)
    leave_out_build(by=lena, build=car)
    with assert_refused("Put the car back in first"):
        start_job(by=tom, job=job)


def test_outside_work_is_sent_not_started(tom, car):
    with assert_refused("say when it was sent"):
        start_job(by=tom, job=OutsideJobFactory(build=car))


def test_someone_without_the_trade_does_not_take_it(tom, car):
    job = JobFactory(build=car, trade="weld")
    with assert_refused("does not have the trade"):
        start_job(by=tom, job=job, person=tom.person)
    assert refresh(job).state == State.OPEN
