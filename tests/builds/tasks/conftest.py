"""A site, workers and a gate to hold them at, each in a process of its own."""

from __future__ import annotations

import os
import shutil
import socket
import sqlite3
import subprocess
import sys
import time
from contextlib import closing, suppress

import pytest
import redis
from django.conf import settings as project

REDIS = os.environ.get("TEST_REDIS_URL", "")
SECONDS = 90
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


@pytest.fixture(scope="session")
def prepared(tmp_path_factory):
    """A small workshop in a database, made once and copied for each test."""
    path = tmp_path_factory.mktemp("prepared") / "queue.sqlite3"
    environment = os.environ | {
        "DATABASE_URL": f"sqlite:///{path}",
        "REDIS_URL": "",
        "DEBUG": "1",
    }
    for command in (("migrate", "-v0"), ("shell", "-v0", "-c", PREPARE)):
        subprocess.run(
            [sys.executable, "manage.py", *command],
            cwd=project.BASE_DIR,
            env=environment,
            check=True,
        )
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("pragma wal_checkpoint(truncate)")
    return path


@pytest.fixture
def database(tmp_path):
    return tmp_path / "queue.sqlite3"


@pytest.fixture
def gate(tmp_path):
    """Return a way to hold the engine at what is named, and to let it go."""

    def gate(*kinds):
        (tmp_path / "hold").write_text(" ".join(kinds))

    gate()
    return gate


@pytest.fixture
def broker():
    """An empty queue."""
    redis.Redis.from_url(REDIS).flushdb()
    return REDIS


@pytest.fixture
def environment(database, tmp_path, broker):
    return os.environ | {
        "DATABASE_URL": f"sqlite:///{database}",
        "REDIS_URL": broker,
        "DEBUG": "1",
        "DEMO": "0",
        "FORECAST_SCHEDULES": "1",
        "FORECAST_SAMPLES": "20",
        "HOLD": str(tmp_path),
    }


@pytest.fixture
def site(environment, prepared, database):
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

    shutil.copy(prepared, database)
    return run


@pytest.fixture
def say(site):
    """Return a way to run lines as the site does; what they print comes back."""
    return lambda lines: site("shell", "-v0", "-c", lines)


@pytest.fixture
def start(environment, tmp_path):
    """Return a way to start a worker; all are stopped at the end."""
    started = []

    def start(app="builds", pool="solo"):
        with (tmp_path / f"worker-{len(started)}.log").open("w") as log:
            command = ("-m", "celery", "-A", app, "worker", "--pool", pool, "-c", "1")
            process = subprocess.Popen(
                [sys.executable, *command, "-n", f"w{len(started)}@test"],
                cwd=project.BASE_DIR,
                env=environment,
                stdout=log,
                stderr=log,
            )
        started.append(process)
        return process

    yield start
    for process in started:
        process.terminate()
    for process in started:
        with suppress(subprocess.TimeoutExpired):
            process.wait(timeout=30)
        process.kill()


@pytest.fixture
def held(start, gate):
    """Return a way to start a worker whose engine waits at the gate."""
    return lambda pool="solo": start("tests.builds.tasks.held_worker", pool)


@pytest.fixture
def worker(start):
    return start()


@pytest.fixture
def ask(database):
    """Return a way to read rows of the database, one list for each."""

    def ask(words):
        with closing(sqlite3.connect(database, timeout=20)) as connection, connection:
            return [list(row) for row in connection.execute(words)]

    return ask


@pytest.fixture
def wait_for(ask):
    """Return a way to wait until the rows are as they should be."""

    def wait_for(words, wanted):
        ends = time.monotonic() + SECONDS
        while (found := ask(words)) != wanted:
            assert time.monotonic() < ends, f"still {found} after {SECONDS} seconds"
            time.sleep(0.1)

    return wait_for


@pytest.fixture
def calls(tmp_path):
    """Return what the engine has been asked so far, in order."""

    def calls():
        told = tmp_path / "calls"
        return told.read_text().split() if told.exists() else []

    return calls


@pytest.fixture
def own_redis(tmp_path):
    """Return (address, restart, stop) of a Redis that forgets all when it stops."""
    path = shutil.which("redis-server")
    if path is None:
        pytest.skip("There is no redis-server here.")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    servers = []

    def stop():
        for one in servers:
            one.kill()
            one.wait(timeout=10)

    def restart():
        stop()
        command = [path, "--port", str(port), "--bind", "127.0.0.1", "--save", ""]
        servers[:] = [subprocess.Popen(command, stdout=subprocess.DEVNULL)]
        _wait_for_redis(port)

    restart()
    yield f"redis://127.0.0.1:{port}/0", restart, stop
    stop()


def _wait_for_redis(port):
    ends = time.monotonic() + SECONDS
    while True:
        try:
            redis.Redis(port=port).ping()
        except redis.ConnectionError:
            assert time.monotonic() < ends
            time.sleep(0.05)
        else:
            return
