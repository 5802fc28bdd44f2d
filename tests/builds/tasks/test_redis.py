"""The real queue: a worker of its own beside a throw-away Redis."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import time
from contextlib import closing

import pytest
from django.conf import settings as project

REDIS = os.environ.get("TEST_REDIS_URL", "")
SECONDS = 60

pytestmark = [
    pytest.mark.redis,
    pytest.mark.xdist_group("redis"),  # one queue: one test at a time
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]

# One process per step, as in life: the site, the worker, a command.
PREPARE = """
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory
from tests.factories.people import UserFactory
from tests.factories.workshop import CalendarFactory, WorkshopFactory
CalendarFactory()
WorkshopFactory()
JobFactory(key="weld", build=BuildFactory())
UserFactory(username="lena", role="lead")
"""
CHANGE = """
from builds.actions.work import start_job
from builds.models import Job, User
start_job(by=User.objects.get(), job=Job.objects.get())
"""
STATES = "select state from builds_forecast order by id"
WORKER = ("-m", "celery", "-A", "builds", "worker", "--pool", "solo")
AWAY = "redis://127.0.0.1:1/0"


@pytest.fixture
def database(tmp_path):
    return tmp_path / "queue.sqlite3"


@pytest.fixture
def environment(database):
    return os.environ | {
        "DATABASE_URL": f"sqlite:///{database}",
        "REDIS_URL": REDIS,
        "DEBUG": "1",
        "DEMO": "0",
        "FORECAST_SCHEDULES": "1",
        "FORECAST_SAMPLES": "20",
    }


@pytest.fixture
def site(environment):
    """Return a way to do something as the site does, in a process of its own."""

    def run(*command, **more):
        done = subprocess.run(
            [sys.executable, "manage.py", *command],
            cwd=project.BASE_DIR,
            env=environment | more,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    run("migrate", "-v0")
    run("shell", "-v0", "-c", PREPARE)
    return run


@pytest.fixture
def worker(environment, tmp_path):
    with (tmp_path / "worker.log").open("w") as log:
        process = subprocess.Popen(
            [sys.executable, *WORKER],
            cwd=project.BASE_DIR,
            env=environment,
            stdout=log,
            stderr=log,
        )
        yield process
        process.terminate()
        process.wait(timeout=30)


def states(database):
    with closing(sqlite3.connect(database)) as connection:
        return [state for (state,) in connection.execute(STATES)]


def wait_for(database, wanted):
    ends = time.monotonic() + SECONDS
    while (found := states(database)) != wanted:
        assert time.monotonic() < ends, f"still {found} after {SECONDS} seconds"
        time.sleep(0.5)


def test_a_worker_answers_a_change_made_on_the_site(site, worker, database):
    site("shell", "-v0", "-c", CHANGE)
    wait_for(database, ["done"])
    assert worker.poll() is None


def test_a_change_made_before_the_worker_is_there_waits_for_it(site, request, database):
    site("shell", "-v0", "-c", CHANGE)
    assert states(database) == ["queued"]
    request.getfixturevalue("worker")
    wait_for(database, ["done"])


def test_with_redis_away_the_change_stands_and_drain_answers_it(site, database):
    site("shell", "-v0", "-c", CHANGE, REDIS_URL=AWAY)
    assert states(database) == ["queued"]
    assert site("drain", REDIS_URL=AWAY) == "1 waited."
    assert states(database) == ["done"]
