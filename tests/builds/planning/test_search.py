"""The long look for a better plan: what is kept, what ends it, what survives."""

from __future__ import annotations

import copy
from datetime import datetime, timedelta
from unittest import mock

import pytest
from django.utils import timezone

from builds.models import Forecast, ForecastState, Job, Search, SearchState, Workshop
from builds.planning import search as searching
from builds.planning.pulse import LOST
from builds.planning.question import read_question
from builds.planning.replan import replan
from builds.planning.search import one_turn
from builds.planning.search_row import claim, give_back_lost, is_current, open_search
from builds.selectors.better_plan import ended_words
from tests.factories.job import JobFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]

DAY = timedelta(days=1)


@pytest.fixture
def job(car):
    return JobFactory(key="weld", build=car, fixed=True)


@pytest.fixture
def search(job):
    return asked()


def give_back_from_the_dead() -> None:
    long_ago = timezone.now() - LOST - timedelta(seconds=1)
    Search.objects.update(state=SearchState.RUNNING, seen=long_ago)
    give_back_lost()


def asked(minutes: int = 1) -> Search:
    found = open_search(by=None, minutes=minutes, at=Workshop.current().clock())
    assert found is not None
    return found


def shifted(answer, days: float):
    """Give the answer with every date moved: a better or a worse plan."""
    other = copy.deepcopy(answer)
    for facts in other["builds"].values():
        for level in facts["levels"].values():
            ready = datetime.fromisoformat(level["p80"]) + days * DAY
            level["p80"] = ready.isoformat(timespec="minutes")
    return other


@pytest.fixture
def engine():
    """Stand in for the engine: finds what is followed, moved by some days.

    It takes its whole time without anybody having to wait, and calls `watch`.
    """

    class Engine:
        days = 0.0
        status = "within 5 % of the bound"
        calls = 0
        meanwhile = staticmethod(lambda: None)

        def look(self, plan, *, seconds, turn, following, watch):
            assert turn >= self.calls
            self.calls += 1
            self.meanwhile()
            watch(1.0)
            clock.tick(seconds)
            found = shifted(following, self.days)
            return found | {"plan": found["plan"] | {"status": self.status}}

    class Clock:
        now = 0.0

        def tick(self, seconds):
            self.now += seconds

        def monotonic(self):
            return self.now

    stand_in, clock = Engine(), Clock()
    with (
        mock.patch.object(searching, "look", stand_in.look),
        mock.patch.object(searching, "time", clock),
    ):
        yield stand_in


def to_the_end(search: Search) -> Search:
    while search.open:
        search = one_turn(search.pk, search.turn) or search
    return search


def ready():
    return ready_in(Forecast.objects.latest_done().answer)


def ready_in(answer):
    text = answer["builds"]["coupe"]["levels"]["complete"]["p80"]
    return datetime.fromisoformat(text)


def test_a_better_plan_takes_the_place_of_the_old_one(search, engine):
    replan()
    before = ready()
    engine.days = -1
    done = to_the_end(search)
    assert done.state == SearchState.DONE
    assert ready() < before
    assert done.before != done.after
    assert Forecast.objects.count() == 1


def test_a_worse_plan_is_not_taken(search, engine):
    replan()
    before = ready()
    engine.days = 1
    done = to_the_end(search)
    assert ready() == before
    assert done.before == done.after


def test_the_time_is_spent_turn_by_turn(job, engine):
    search = asked(minutes=2)
    shares = []
    while search.open:
        search = one_turn(search.pk, search.turn)
        shares.append(search.share)
    assert shares == [turn * searching.TURN / 120 for turn in range(1, 7)]
    assert search.spent == 120


def test_a_plan_nobody_has_answered_is_answered_first(search, engine):
    assert not Forecast.objects.exists()
    to_the_end(search)
    assert Forecast.objects.get().state == ForecastState.DONE


def test_the_same_plan_later_asked_gets_the_better_answer(search, engine):
    replan()
    engine.days = -1
    to_the_end(search)
    better = ready()
    replan()
    assert ready() == better


def test_stop_keeps_the_best_so_far(search, engine):
    replan()
    before = ready()
    engine.days = -1
    engine.meanwhile = lambda: Search.objects.update(stop_asked=True)
    stopped = one_turn(search.pk, 0)
    assert stopped.state == SearchState.STOPPED
    assert ready() < before
    assert stopped.spent == searching.TURN


def test_a_change_meanwhile_ends_it_and_its_answer_is_not_shown(search, engine, job):
    replan()
    engine.days = -1

    def change():
        Job.objects.filter(pk=job.pk).update(likely=40)
        replan()

    engine.meanwhile = change
    ended = one_turn(search.pk, 0)
    assert ended.state == SearchState.OVERTAKEN
    assert Forecast.objects.latest_done().input_hash != search.input_hash
    # Undo the change: the old question is the new one, with the better answer.
    better = Forecast.objects.get(input_hash=search.input_hash)
    Job.objects.filter(pk=job.pk).update(likely=4)
    assert replan() == better
    assert ready() == ready_in(ended.after)


def test_a_change_before_the_turn_ends_it(search, engine, job):
    Job.objects.filter(pk=job.pk).update(likely=40)
    assert one_turn(search.pk, 0).state == SearchState.OVERTAKEN
    assert engine.calls == 0


def test_a_clock_that_runs_on_is_no_change(search, engine):
    Workshop.objects.update(now="2027-01-11T08:15")
    assert to_the_end(search).state == SearchState.DONE


def test_what_is_found_does_not_put_the_clock_back(search, engine):
    search = one_turn(search.pk, 0)
    Workshop.objects.update(now="2027-01-11T16:00")
    replan()
    engine.days = -1
    search = one_turn(search.pk, search.turn)
    newest = Forecast.objects.latest_done()
    assert newest.input_hash == search.input_hash == read_question().digest
    assert ready_in(search.after) == ready_in(search.before) - DAY
    assert is_current(search)


def test_a_newer_question_goes_first(search, engine):
    replan()
    Forecast.objects.create(state=ForecastState.QUEUED)
    waits = one_turn(search.pk, 0)
    assert (waits.state, waits.turn, engine.calls) == (SearchState.QUEUED, 1, 0)
    replan()
    assert to_the_end(waits).state == SearchState.DONE


def test_a_proven_plan_ends_it_at_once(search, engine):
    replan()
    engine.status = "proven best"
    assert one_turn(search.pk, 0).state == SearchState.DONE


def test_a_turn_is_taken_once(search, engine):
    first = one_turn(search.pk, 0)
    assert one_turn(search.pk, 0) is None
    assert one_turn(search.pk, first.turn).turn == 2
    assert engine.calls == 2


def test_what_a_worker_has_in_hand_is_left_to_it_unless_it_is_dead(search, engine):
    Search.objects.update(state=SearchState.RUNNING, seen=timezone.now())
    assert one_turn(search.pk, 0) is None
    give_back_lost()
    assert one_turn(search.pk, 0) is None
    assert one_turn(search.pk, 0, takes_over=True) is not None


def test_what_gives_no_sign_of_life_is_given_back(search, engine):
    give_back_from_the_dead()
    assert one_turn(search.pk, 0) is not None


def test_a_plan_of_which_every_worker_dies_comes_to_an_end(search, engine):
    """The solver itself can end a process (google/or-tools, issue 5025)."""
    Search.objects.update(state=SearchState.RUNNING)
    assert claim(search.pk, 0, takes_over=True).spent == searching.TURN
    for _ in range(2):
        give_back_from_the_dead()
    search = one_turn(search.pk, 0)
    assert (search.state, engine.calls) == ("failed", 0)
    assert "What was found until then stands" in search.error


def test_an_engine_that_fails_ends_it_with_its_words(search):
    with (
        mock.patch.object(searching, "look", side_effect=MemoryError("too big")),
        pytest.raises(MemoryError),
    ):
        one_turn(search.pk, 0)
    search.refresh_from_db()
    assert (search.state, search.error) == ("failed", "MemoryError: too big")
    assert "The plan stays as it was" in ended_words(search)
    search.after = {**search.before, "found": True}
    assert "What was found until then is kept" in ended_words(search)


def test_a_plan_that_has_become_wrong_ends_it_with_its_faults(search, job):
    other = JobFactory(build=job.build, after=[job])
    job.links.create(before=other)
    ended = one_turn(search.pk, 0)
    assert ended.state == SearchState.FAILED
    assert "ring" in ended.faults[0]["what"]
