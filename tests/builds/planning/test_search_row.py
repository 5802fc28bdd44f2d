"""The row of a long look: one for each plan, the newest counts."""

import pytest

from builds.models import Job, Search, SearchState, Workshop
from builds.planning.better import cost
from builds.planning.question import read_question
from builds.planning.search_row import close, is_current, open_search
from tests.factories.job import JobFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


@pytest.fixture
def job(car):
    return JobFactory(key="weld", build=car, fixed=True)


@pytest.fixture
def search(job):
    return asked()


def asked() -> Search:
    found = open_search(by=None, minutes=1, at=Workshop.current().clock())
    assert found is not None
    return found


def test_the_same_plan_is_looked_at_once_and_an_older_look_ends(search, job):
    clock = Workshop.current().clock()
    assert open_search(by=None, minutes=5, at=clock) is None
    Job.objects.filter(pk=job.pk).update(likely=40)
    newer = asked()
    search.refresh_from_db()
    assert (search.state, newer.state) == (SearchState.OVERTAKEN, SearchState.QUEUED)


def test_asked_again_later_it_is_the_same_plan_until_something_is_changed(search, job):
    Workshop.objects.update(now="2027-01-11T08:15")
    later = Workshop.current().clock()
    assert later != search.at
    assert open_search(by=None, minutes=5, at=later) is None
    search.refresh_from_db()
    assert search.open
    Job.objects.filter(pk=job.pk).update(likely=40)
    asked()
    search.refresh_from_db()
    assert search.state == SearchState.OVERTAKEN


def test_a_plan_that_has_faults_since_is_no_longer_the_one_looked_at(search, job):
    assert is_current(search)
    other = JobFactory(build=job.build, after=[job])
    job.links.create(before=other)
    assert not is_current(search)


def test_one_that_was_overtaken_stays_so_whatever_its_worker_says(search):
    Search.objects.update(state=SearchState.OVERTAKEN)
    assert close(search, SearchState.DONE).state == SearchState.OVERTAKEN


def test_the_odds_say_which_plan_is_better_and_dates_only_then(job):
    plan = read_question().plan

    def answer(chance, day):
        levels = {"complete": {"probability": chance, "p80": f"2027-06-{day}T12:00"}}
        entry = {"level": "complete", "levels": levels}
        return {
            "shows": {"summer": {"entries": {"coupe": entry}}},
            "builds": {"coupe": {"levels": levels}},
        }

    assert cost(answer(0.71, 20), plan) < cost(answer(0.64, 10), plan)
    assert cost(answer(0.64, 10), plan) < cost(answer(0.64, 20), plan)
