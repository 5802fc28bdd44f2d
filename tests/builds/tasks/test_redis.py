"""The real queue: a worker of its own beside a throw-away Redis."""

from __future__ import annotations

import pytest

from tests.builds.tasks.conftest import REDIS

pytestmark = [
    pytest.mark.redis,
    pytest.mark.xdist_group("redis"),  # one queue: one test at a time
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]

CHANGE = """
from builds.actions.work import start_job
from builds.models import Job, User
start_job(by=User.objects.get(), job=Job.objects.get())
"""
STATES = "select state from builds_forecast order by id"
AWAY = "redis://127.0.0.1:1/0"


def test_a_worker_answers_a_change_made_on_the_site(say, worker, wait_for):
    say(CHANGE)
    wait_for(STATES, [["done"]])
    assert worker.poll() is None


def test_a_change_made_before_the_worker_is_there_waits_for_it(
    say, start, ask, wait_for
):
    say(CHANGE)
    assert ask(STATES) == [["queued"]]
    start()
    wait_for(STATES, [["done"]])


def test_with_redis_away_the_change_stands_and_drain_answers_it(site, ask):
    site("shell", "-v0", "-c", CHANGE, REDIS_URL=AWAY)
    assert ask(STATES) == [["queued"]]
    assert site("drain", REDIS_URL=AWAY) == "1 waited."
    assert ask(STATES) == [["done"]]
