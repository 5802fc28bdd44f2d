"""Changing what a job is, side by side with others."""

from threading import Barrier, Thread

import pytest
from django.db import connection

from builds.actions.errors import Conflict, PlanRefused
from builds.actions.jobs import change_job, create_job, set_places
from builds.models import Event, Job, State, User
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory
from tests.factories.place import PlaceFactory


@pytest.fixture
def job(car):
    return JobFactory(key="weld", build=car, title="Weld", likely=4)


def test_only_what_changed_is_written_down(lena, job):
    with assert_one_event("changed job"):
        change_job(by=lena, job=job, fields={"title": "Weld", "likely": 6.0})
    event = Event.objects.get()
    assert (event.before, event.after) == ({"likely": 4.0}, {"likely": 6.0})
    job.refresh_from_db()
    assert (job.likely, job.version) == (6.0, 2)


@pytest.mark.fault("F13")
def test_the_second_of_two_is_told_both_values(lena, job):
    change_job(by=lena, job=job, fields={"title": "Weld tank"}, version=1)
    stale = Job.objects.get(pk=job.pk)
    with pytest.raises(Conflict) as error:
        change_job(by=lena, job=stale, fields={"title": "Braze"}, version=1)
    assert error.value.yours == {"title": "Braze"}
    assert error.value.theirs == {"title": "Weld tank"}
    assert error.value.version == 2
    assert Job.objects.get(pk=job.pk).title == "Weld tank"
    assert Event.objects.count() == 1


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_no_change_is_lost_when_eight_save_at_once():
    """On SQLite writers queue; only PostgreSQL lets them meet."""
    if connection.vendor != "postgresql":
        pytest.skip("DATABASE_URL names no PostgreSQL server")
    job = JobFactory(key="weld")
    lead = User.objects.create(username="lena", role="lead")
    barrier, told = Barrier(8), []

    def save(number):
        barrier.wait()
        try:
            change_job(
                by=lead, job=Job.objects.get(), fields={"note": str(number)}, version=1
            )
        except Conflict:
            told.append(number)
        finally:
            connection.close()

    threads = [Thread(target=save, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    job.refresh_from_db()
    assert (len(told), job.version) == (7, 2)
    assert int(job.note) not in told
    assert Event.objects.count() == 1


def test_how_far_it_has_got_is_not_changed_here(lena, job):
    with assert_refused("“state” is not changed here"):
        change_job(by=lena, job=job, fields={"state": State.DONE})


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"low": 5.0, "high": 9.0}, "low is above the likely figure"),
        ({"low": 1.0, "high": 3.0}, "high is below the likely figure"),
        ({"low": 5.0}, "low is above the likely figure"),
        ({"likely": None, "fixed": True}, "needs its likely figure"),
        ({"low": 1.0}, "low without a high"),
        ({"people": 0}, "one person at least"),
        ({"trade_level": 4}, "trade level is 1, 2 or 3"),
        ({"rework_chance": 2.0}, "between 0 and 1"),
        ({"level": "flying"}, "a level the plan does not have"),
    ],
)
def test_what_cannot_be_is_refused_in_words(lena, job, fields, words):
    with assert_refused(words):
        change_job(by=lena, job=job, fields=fields)
    assert Job.objects.get(pk=job.pk).version == 1


def test_a_fault_says_where_and_what_to_do(lena, job):
    with pytest.raises(PlanRefused) as error:
        change_job(by=lena, job=job, fields={"level": "flying"})
    assert set(error.value.faults[0]) == {"where", "what", "fix"}


def test_a_new_job_comes_last_with_a_key_of_its_own(lena, job, car):
    booth = PlaceFactory(key="booth")
    with assert_one_event("created job"):
        new = create_job(
            by=lena, build=car, title="Weld", likely=2.0, places=[(booth, 1)]
        )
    assert (new.key, new.build) == ("weld-2", car)
    assert list(Job.objects.all()) == [job, new]
    assert [use.place for use in new.place_uses.all()] == [booth]


def test_a_title_without_letters_still_gets_a_key(lena, car):
    assert create_job(by=lena, build=car, title="???", likely=1.0).key == "job"


def test_a_new_job_needs_an_estimate(lena, car):
    with assert_refused("no estimate"):
        create_job(by=lena, build=car, title="Weld")
    assert not Job.objects.exists()


def test_places_are_set_anew(lena, job):
    booth, ramp = PlaceFactory(key="booth"), PlaceFactory(key="ramp", capacity=2)
    set_places(by=lena, job=job, places=[(booth, 1)])
    with assert_one_event("moved job"):
        set_places(by=lena, job=job, places=[(ramp, 2)])
    event = Event.objects.first()
    assert event.before == {"places": {"booth": 1}}
    assert event.after == {"places": {"ramp": 2}}


def test_more_room_than_a_place_has_is_refused(lena, job):
    with assert_refused("which holds 1"):
        set_places(by=lena, job=job, places=[(PlaceFactory(), 2)])
