"""A large workshop on one database, served as it is for real, with its worker."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from subprocess import run

from tests.builds.bench.stack import ROOT, free_port, listens, running, wait_until
from tests.builds.load.plan import large_plan

FILL = """
import json
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from builds.models import Build, Job, Person, User
from builds.planning.replan import replan
people = {"lead": "imogen", "technician": "rafe", "customer": None}
sessions = {}
for role, key in people.items():
    person = Person.objects.get(key=key) if key else None
    user = User.objects.create(username=role, role=role, person=person)
    if role == "customer":
        user.cars.add(Build.objects.first())
    store = SessionStore()
    store[SESSION_KEY] = str(user.pk)
    store[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
    store[HASH_SESSION_KEY] = user.get_session_auth_hash()
    store.create()
    sessions[role] = store.session_key
replan()
keys = list(Job.objects.filter(kind="bench").values_list("key", flat=True)[:200])
cars = list(Build.objects.values_list("key", flat=True))
print("facts", json.dumps({"sessions": sessions, "jobs": keys, "cars": cars}))
"""


@contextmanager
def served(
    room: Path, address: str, redis: str, cars: int, jobs: int
) -> Iterator[dict]:
    """Give where it is, the sessions and the keys."""
    os.environ.update(
        SECRET_KEY="k3y-" * 16 + "0123456789abcdefghij",
        ALLOWED_HOSTS="127.0.0.1",
        BEHIND_PROXY="1",
        DATABASE_URL=address,
        REDIS_URL=redis,
        FORECAST_SCHEDULES="1",
        FORECAST_SAMPLES="500",
    )
    plan = room / "plan.json"
    plan.write_text(json.dumps(large_plan(cars, jobs)))
    for command in (("migrate", "-v0"), ("collectstatic", "--no-input", "-v0")):
        manage(*command)
    manage("import_plan", str(plan), "--stop-clock")
    facts = json.loads(manage("shell", "-v0", "-c", FILL).rpartition("facts ")[2])
    port = free_port()
    web = [
        sys.executable,
        "-m",
        "gunicorn",
        "builds.wsgi",
        "--bind",
        f"127.0.0.1:{port}",
    ]
    web += ["--workers", "2", "--threads", "4"]
    worker = [sys.executable, "-m", "celery", "-A", "builds", "worker", "-c", "1"]
    with running(web, room / "web.log"), running(worker, room / "worker.log"):
        wait_until(lambda: listens(port), 90)
        yield facts | {"port": port}


def manage(*command: str) -> str:
    done = run(
        [sys.executable, "manage.py", *command],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise SystemExit(done.stderr[-2000:])
    return done.stdout.strip()
