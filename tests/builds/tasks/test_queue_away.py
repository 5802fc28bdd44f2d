"""Redis goes away, forgets, or takes every call and answers none."""

from __future__ import annotations

import socket
import threading
from contextlib import closing

import pytest

from tests.builds.tasks.conftest import REDIS
from tests.builds.tasks.test_redis import CHANGE, STATES
from tests.builds.tasks.test_redis_faults import CHANGE_AGAIN, IS_NEWEST

pytestmark = [
    pytest.mark.redis,
    pytest.mark.xdist_group("redis"),
    pytest.mark.faults,
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]

PAGE = """
from datetime import timedelta
from django.test import Client
from builds.models import Forecast, User
earlier = Forecast.objects.filter(state="queued").get()
Forecast.objects.filter(pk=earlier.pk).update(
    asked_at=earlier.asked_at - timedelta(minutes=5)
)
client = Client()
client.force_login(User.objects.get())
answer = client.get("/people/", SERVER_NAME="127.0.0.1")
print(answer.status_code, "nobody has begun" in answer.content.decode())
"""
CLOCK = "from builds.tasks.undone import drain_queue; drain_queue.delay()"
AS_THE_SITE = """
import time
import builds.wsgi
began = time.monotonic()
{}
print("within", time.monotonic() - began < 20)
"""


class TestRedisOfOurOwn:
    @pytest.fixture
    def broker(self, own_redis):
        return own_redis[0]

    @pytest.mark.fault("F4")
    def test_away_and_back_again(self, say, worker, wait_for, own_redis, ask):
        """The clock asks for what waits three times a minute; here the test does."""
        say(CHANGE)
        wait_for(STATES, [["done"]])
        own_redis[2]()
        say(CHANGE_AGAIN)
        assert ask(STATES) == [["done"], ["queued"]]
        assert say(PAGE) == "200 True"
        own_redis[1]()
        say(CLOCK)
        wait_for(STATES, [["done"], ["done"]])
        assert say(IS_NEWEST) == "True"
        assert worker.poll() is None

    @pytest.mark.fault("F5")
    def test_it_forgets_what_it_was_given(self, say, start, wait_for, own_redis, ask):
        say(CHANGE)
        own_redis[1]()
        assert ask(STATES) == [["queued"]]
        start()
        wait_for(STATES, [["done"]])


class TestRedisThatNeverAnswers:
    @pytest.fixture
    def broker(self):
        """A port that takes every call and says nothing."""
        calls = []
        with closing(socket.create_server(("127.0.0.1", 0))) as deaf:

            def take():
                while True:
                    try:
                        calls.append(deaf.accept()[0])
                    except OSError:
                        return

            threading.Thread(target=take, daemon=True).start()
            yield f"redis://127.0.0.1:{deaf.getsockname()[1]}/0"
        for call in calls:
            call.close()

    @pytest.mark.fault("F18")
    def test_nobody_waits_as_long_as_a_worker_would(self, say, ask):
        """A worker gives Redis 20 s; whoever pressed a button must not wait so long."""
        change = CHANGE.strip()
        assert say(AS_THE_SITE.format(change)) == "within True"
        assert ask(STATES) == [["queued"]]
