"""Who does a job: by name, or whoever is free."""

import pytest

from builds.actions.hands import name_person
from builds.actions.people import set_trades
from builds.models import Event, Kind, State
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory
from tests.factories.people import PersonFactory


@pytest.fixture
def job(car):
    facts = {"trade": "panel", "trade_level": 3}
    return JobFactory(key="sill", title="Sill", build=car, **facts)


def test_it_is_theirs_from_here_on(lena, tom, job):
    with assert_one_event("named person"):
        name_person(by=lena, job=job, person=tom.person)
    job.refresh_from_db()
    assert job.person == tom.person
    assert Event.objects.get().after == {"person": "tom"}


def test_nobody_by_name_leaves_it_to_whoever_is_free(lena, tom, job):
    name_person(by=lena, job=job, person=tom.person)
    with assert_one_event("freed job"):
        name_person(by=lena, job=job, person=None)
    job.refresh_from_db()
    assert job.person is None


def test_the_same_again_is_no_change(lena, tom, job):
    name_person(by=lena, job=job, person=tom.person)
    name_person(by=lena, job=job, person=tom.person)
    assert Event.objects.count() == 1


def test_somebody_without_the_trade_is_refused_by_name(lena, job):
    una = PersonFactory(key="una", name="Una", trades=["trim"])
    with assert_refused("Una does no panel work."):
        name_person(by=lena, job=job, person=una)


@pytest.mark.parametrize(
    ("level", "asked", "words"),
    [
        (1, None, "only beside someone; this asks for somebody who works alone."),
        (1, 3, "only beside someone; this asks for somebody who signs off."),
        (2, 3, "does not sign off; this asks for somebody who signs off."),
    ],
)
def test_somebody_below_the_level_is_refused_in_words(
    lena, tom, job, level, asked, words
):
    set_trades(by=lena, person=tom.person, levels={"panel": level})
    job.trade_level = asked
    job.save()
    with assert_refused(f"Tom does panel work, but {words}"):
        name_person(by=lena, job=job, person=tom.person)


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"kind": Kind.STAND}, "not done by hands"),
        ({"state": State.LEFT_OUT}, "left out"),
        (
            {
                "state": State.DONE,
                "started": "2027-01-08T08:00",
                "finished": "2027-01-08T12:00",
            },
            "is done",
        ),
    ],
)
def test_a_job_nobody_does_any_more_is_nobodys(lena, tom, car, facts, words):
    job = JobFactory(build=car, title="Cure", **facts)
    with assert_refused(words):
        name_person(by=lena, job=job, person=tom.person)


def test_somebody_who_is_left_out_is_given_nothing(lena, tom, job):
    tom.person.left_out = True
    tom.person.save()
    with assert_refused("No work is planned for Tom."):
        name_person(by=lena, job=job, person=tom.person)
