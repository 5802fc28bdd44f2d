"""What a worker, Redis or a newer change may do in the middle of a run.

Celery's documentation, "acks_late" and "reject_on_worker_lost": a message is handed
out again when whoever had it dies. What a dead worker's row says is found out by
its silence.
"""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from tests.builds.tasks.conftest import REDIS
from tests.builds.tasks.test_redis import CHANGE, STATES

pytestmark = [
    pytest.mark.redis,
    pytest.mark.xdist_group("redis"),
    pytest.mark.faults,
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]

CHANGE_AGAIN = """
from builds.actions.work import stop_job
from builds.models import Job, User
stop_job(by=User.objects.get(), job=Job.objects.get(), remaining=2, reason="x")
"""
WORK_OUT = "from builds.tasks.replan import request_replan; request_replan()"
LOOK = """
from builds.actions.search import ask_for_search
from builds.models import User
ask_for_search(by=User.objects.get(), minutes=1)
"""
STOP = """
from builds.actions.search import stop_search
from builds.models import User
stop_search(by=User.objects.get())
"""
IS_NEWEST = """
from builds.models import Forecast
from builds.planning.question import read_question
print(Forecast.objects.latest_done().input_hash == read_question().digest)
"""
PAGE = """
from builds.planning.search_row import is_current
from builds.selectors.better_plan import better_plan_page
search = better_plan_page(is_current).search
print(search.state, search.percent)
"""
AT_THE_GATE = "select count(*) from builds_{} where state = 'running' and share > 0"
SEARCHES = "select state from builds_search order by id"
LONG_AGO = "update builds_{} set seen = '2020-01-01 00:00:00'"
DONE = "select count(*) from builds_forecast where state = 'done'"


def kill(pid):
    os.kill(pid, signal.SIGKILL)


def children(process):
    found = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text()
    return [int(pid) for pid in found.split()]


@pytest.mark.fault("F2")
def test_kill_9_of_a_worker_in_the_middle_loses_nothing(
    say, held, start, gate, ask, wait_for
):
    """The row's last sign of life is set back instead of waiting."""
    gate("replan")
    say(CHANGE)
    worker = held()
    wait_for(AT_THE_GATE.format("forecast"), [[1]])
    kill(worker.pid)
    worker.wait(timeout=30)
    assert ask(STATES) == [["running"]]
    ask(LONG_AGO.format("forecast"))
    start()
    wait_for(STATES, [["done"]])
    assert say(IS_NEWEST) == "True"


@pytest.mark.fault("F1")
def test_kill_9_of_the_process_that_works_is_made_good_by_the_queue(
    say, held, gate, ask, wait_for, calls
):
    gate("replan")
    say(CHANGE)
    worker = held("prefork")
    wait_for(AT_THE_GATE.format("forecast"), [[1]])
    (child,) = children(worker)
    kill(child)
    gate()
    wait_for(DONE, [[1]])
    wait_for("select count(*) from builds_forecast where state = 'running'", [[0]])
    assert calls() == ["replan", "replan"]
    assert say(IS_NEWEST) == "True"


def test_two_asked_at_once_end_in_the_newest_answer(say, held, gate, wait_for):
    gate("replan")
    held()
    held()
    say(CHANGE)
    wait_for(AT_THE_GATE.format("forecast"), [[1]])
    say(CHANGE_AGAIN)
    wait_for(AT_THE_GATE.format("forecast"), [[2]])
    gate()
    wait_for("select count(*) from builds_forecast where finished is null", [[0]])
    assert say(IS_NEWEST) == "True"


@pytest.mark.fault("F3")
def test_the_same_input_asked_twice_is_computed_once(
    say, held, gate, ask, wait_for, calls
):
    held()
    say(WORK_OUT)
    wait_for(STATES, [["done"]])
    say(WORK_OUT)
    wait_for(STATES, [["done"], ["superseded"]])
    assert calls() == ["replan"]


def test_a_long_look_shows_how_far_it_is_and_stop_keeps_the_best(
    say, held, gate, ask, wait_for
):
    gate("search")
    say(LOOK)
    held()
    wait_for(AT_THE_GATE.format("search"), [[1]])
    assert say(PAGE) == "Looking 16"  # half of the first of three turns
    say(STOP)
    wait_for(SEARCHES, [["stopped"]])
    assert ask(DONE) == [[1]]
    assert say(IS_NEWEST) == "True"


def test_kill_9_in_the_middle_of_a_long_look_goes_on_where_it_was(
    say, held, gate, ask, wait_for, calls
):
    gate("search")
    first = held()
    say(LOOK)
    wait_for(AT_THE_GATE.format("search"), [[1]])
    kill(first.pid)
    first.wait(timeout=30)
    gate()
    ask(LONG_AGO.format("search"))
    held()
    wait_for(SEARCHES, [["done"]])
    assert calls() == ["replan", "search", "search"]


def test_a_change_in_the_middle_of_a_long_look_ends_it(say, held, gate, ask, wait_for):
    gate("search")
    say(LOOK)
    held()
    wait_for(AT_THE_GATE.format("search"), [[1]])
    say(CHANGE)
    wait_for(SEARCHES, [["overtaken"]])
    gate()
    wait_for(DONE, [[2]])
    assert say(IS_NEWEST) == "True"


class TestRedisRestarts:
    @pytest.fixture
    def broker(self, own_redis):
        return own_redis[0]

    @pytest.mark.fault("F5")
    def test_in_the_middle_of_a_long_look_and_forgets_everything(
        self, say, site, held, gate, ask, wait_for, own_redis
    ):
        gate("search")
        say(LOOK)
        held()
        wait_for(AT_THE_GATE.format("search"), [[1]])
        own_redis[1]()
        say(CHANGE)
        wait_for(SEARCHES, [["overtaken"]])
        gate()
        wait_for(DONE, [[2]])
        assert say(IS_NEWEST) == "True"
