"""A site as it is served, and servers of our own to be killed under it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable

import pytest
from django.conf import settings as project

from tests.builds.faults.postgres import Postgres, programs
from tests.builds.faults.site import CSRF, Site, free_port

REDIS = os.environ.get("TEST_REDIS_URL", "")
FURNISH = """
from django.core.management import call_command
call_command("migrate", verbosity=0)
from builds.actions.demo import load_demo
load_demo()
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from builds.models import User
user = User.objects.get(username="imogen")
store = SessionStore()
store[SESSION_KEY] = str(user.pk)
store[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
store[HASH_SESSION_KEY] = user.get_session_auth_hash()
store.create()
from django.db import connection
if connection.vendor == "sqlite":
    connection.cursor().execute("pragma wal_checkpoint(truncate)")
print("key", store.session_key)
"""


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """What the environment of a served site holds, but for its database."""
    return {
        "PATH": os.environ["PATH"],
        "HOME": str(tmp_path_factory.mktemp("home")),
        "SECRET_KEY": "k3y-" * 16 + "0123456789abcdefghij",
        "ALLOWED_HOSTS": "127.0.0.1",
        "BEHIND_PROXY": "1",
        "DEMO": "1",
        "FORECAST_SCHEDULES": "1",
        "FORECAST_SAMPLES": "20",
    }


@pytest.fixture(scope="session")
def manage(served) -> Callable[..., str]:
    """Return a way to run a command with a served site's settings."""

    def manage(*command: str, **more: str) -> str:
        done = subprocess.run(
            [sys.executable, "manage.py", *command],
            cwd=project.BASE_DIR,
            env=served | more,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    return manage


@pytest.fixture(scope="session")
def commands(manage):
    """Return a way to run several commands in one process, which starts faster."""

    def commands(*each: tuple[object, ...], **more: str) -> str:
        lines = [
            f"call_command({', '.join(map(repr, words))}, verbosity=0)"
            for words in each
        ]
        whole = "\n".join(["from django.core.management import call_command", *lines])
        return manage("shell", "-v0", "-c", whole, **more)

    return commands


@pytest.fixture(scope="session")
def furnished(manage):
    """Return a way to fill a database with the sample workshop; gives a session."""

    def furnished(address: str) -> str:
        told = manage("shell", "-v0", "-c", FURNISH, DATABASE_URL=address)
        return told.rpartition("key ")[2]

    return furnished


@pytest.fixture(scope="session")
def sample(furnished, tmp_path_factory):
    """A SQLite file with the sample workshop, and the lead's session in it."""
    path = tmp_path_factory.mktemp("sample") / "site.sqlite3"
    key = furnished(f"sqlite:///{path}")
    return path, key


@pytest.fixture
def database(sample, tmp_path):
    """A copy of the sample for one test."""
    return shutil.copy(sample[0], tmp_path / "site.sqlite3")


@pytest.fixture(scope="session")
def _static(manage):
    manage("collectstatic", "--no-input", "-v0")


@pytest.fixture
def serve(served, tmp_path, _static):
    """Return a way to serve a database; all are stopped at the end."""
    sites: list[Site] = []

    def serve(address: str, session: str, **more: str) -> Site:
        log = tmp_path / f"site-{len(sites)}.log"
        environment = served | {"DATABASE_URL": address} | more
        sites.append(Site(free_port(), session, environment, log))
        return sites[-1]

    yield serve
    for site in sites:
        site.stop()


@pytest.fixture
def lead_site(serve, database, sample) -> Site:
    """The sample workshop, served from SQLite, with the lead signed in."""
    return serve(f"sqlite:///{database}", sample[1], REDIS_URL=REDIS)


@pytest.fixture(scope="session")
def postgres(tmp_path_factory):
    """A PostgreSQL of our own, to be killed."""
    if programs() is None:
        pytest.skip("There is no PostgreSQL here.")
    server = Postgres(free_port())
    yield server
    server.remove()


@pytest.fixture(scope="session")
def sample_there(postgres, furnished):
    """Return a way to make a PostgreSQL database with the sample; gives a session."""
    key = furnished(postgres.create("sample"))
    return lambda name: (postgres.create(name, like="sample"), key)


__all__ = ["CSRF"]
