"""Asking for a long look, and stopping it."""

from unittest import mock

import pytest

from builds.actions.errors import PlanRefused
from builds.actions.search import ask_for_search, stop_search
from builds.models import Forecast, Search, SearchState
from builds.tasks import search as tasks
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def queue(settings):
    """A queue is set up; what is handed over is heard."""
    settings.REDIS_URL = "redis://localhost:1/0"
    with mock.patch.object(tasks.look_for_a_turn, "delay") as delay:
        yield delay


@pytest.fixture
def job(car):
    return JobFactory(build=car)


def test_it_is_written_down_and_handed_over(
    lena, job, queue, django_capture_on_commit_callbacks
):
    with (
        assert_one_event("asked for a better plan"),
        django_capture_on_commit_callbacks(execute=True),
    ):
        search = ask_for_search(by=lena, minutes=5)
    queue.assert_called_once_with(search.pk, 0)
    assert (search.state, search.minutes, search.by) == ("queued", 5, lena)
    assert not Forecast.objects.exists()  # the plan has not changed


def test_the_same_plan_is_not_looked_at_twice(lena, job, queue):
    ask_for_search(by=lena, minutes=5)
    with assert_refused("looked for already"):
        ask_for_search(by=lena, minutes=1)
    assert Search.objects.count() == 1


def test_without_a_queue_it_is_refused_unless_the_caller_looks(lena, job):
    with assert_refused("none is set up"):
        ask_for_search(by=lena, minutes=5)
    assert ask_for_search(by=None, minutes=5, here=True).open


@pytest.mark.parametrize("minutes", [0, -1, 61])
def test_the_time_has_an_end(lena, job, queue, minutes):
    with assert_refused("from 1 to 60 minutes"):
        ask_for_search(by=lena, minutes=minutes)


def test_without_open_work_there_is_nothing_to_look_for(lena, car, queue):
    with assert_refused("no open job"):
        ask_for_search(by=lena, minutes=5)


def test_a_plan_with_faults_is_refused_with_them(lena, job, queue):
    other = JobFactory(build=job.build, after=[job])
    job.links.create(before=other)
    with pytest.raises(PlanRefused) as error:
        ask_for_search(by=lena, minutes=5)
    assert "ring" in error.value.words


def test_stopping_what_a_worker_has_leaves_the_end_to_it(lena, job, queue):
    search = ask_for_search(by=lena, minutes=5)
    Search.objects.update(state=SearchState.RUNNING)
    with assert_one_event("stopped looking for a better plan"):
        assert stop_search(by=lena)
    search.refresh_from_db()
    assert (search.stop_asked, search.state) == (True, SearchState.RUNNING)
    assert not stop_search(by=lena)


def test_stopping_what_still_waits_ends_it(lena, job, queue):
    search = ask_for_search(by=lena, minutes=5)
    stop_search(by=lena)
    search.refresh_from_db()
    assert search.state == SearchState.STOPPED


def test_there_may_be_nothing_to_stop(lena):
    assert not stop_search(by=lena)
