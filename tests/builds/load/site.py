"""A large workshop on one database, served as it is for real."""

from __future__ import annotations

import json
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from subprocess import run
from typing import Any

from tests.builds.bench.stack import ROOT, free_port, listens, running, wait_until
from tests.builds.load.plan import large_plan

WARM = 20  # seconds in which a web process loads its engine

FILL = """
import json
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from builds.models import AnsweredJob, Build, Forecast, Job, Person, User
from builds.planning.replan import replan
from builds.selectors.who import why_not
cars, hands = list(Build.objects.all()), list(Person.objects.filter(left_out=False))
sessions = {"lead": [], "technician": [], "customer": []}
for role, count in (("lead", 5), ("technician", 20), ("customer", 5)):
    for number in range(count):
        person = hands[number % len(hands)] if role == "technician" else None
        user = User.objects.create(
            username=f"{role}-{number}", role=role, person=person
        )
        if role == "customer":
            user.cars.add(cars[number % len(cars)])
        store = SessionStore()
        store[SESSION_KEY] = str(user.pk)
        store[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
        store[HASH_SESSION_KEY] = user.get_session_auth_hash()
        store.create()
        sessions[role].append(store.session_key)
replan()
bench = Job.objects.filter(kind="bench").values_list("key", flat=True)
newest = Forecast.objects.latest_done()
told = AnsweredJob.objects.filter(forecast=newest, condition="clear")
ready = Job.objects.filter(kind="bench", state="open", commitment=False, person=None)
clear = {session: [] for session in sessions["technician"]}
for job in ready.filter(key__in=told.values("key")):
    able = [
        session for number, session in enumerate(clear)
        if why_not(job, hands[number % len(hands)]) == ""
    ]
    if able:
        clear[min(able, key=lambda one: len(clear[one]))].append(job.key)
outside = Job.objects.filter(kind="outside", state="open")
print("facts", json.dumps({
    "sessions": sessions,
    "jobs": list(bench[:400]),
    "clear": clear,
    "outside": list(outside.values_list("key", flat=True)),
    "cars": [car.key for car in cars],
}))
"""


@contextmanager
def served(
    room: Path, address: str, redis: str, cars: int, jobs: int
) -> Iterator[dict[str, Any]]:
    """Give where it is, the sessions and the keys; no worker runs yet."""
    os.environ.update(
        SECRET_KEY="k3y-" * 16 + "0123456789abcdefghij",
        ALLOWED_HOSTS="127.0.0.1",
        BEHIND_PROXY="1",
        REDIS_URL=redis,
        SECOND_FACTOR="0",
    )
    manage("collectstatic", "--no-input", "-v0")
    port = free_port()
    web = [sys.executable, "-m", "gunicorn", "builds.wsgi"]
    web += ["--bind", f"127.0.0.1:{port}", "--worker-class", "gthread"]
    web += ["--workers", "2", "--threads", "4"]
    log = room / "web.log"
    with filled(room, address, cars, jobs) as facts, running(web, log) as site:
        wait_until(lambda: listens(port), 90)
        time.sleep(WARM)
        yield facts | {"port": port, "web": site.pid}


@contextmanager
def filled(room: Path, address: str, cars: int, jobs: int) -> Iterator[dict[str, Any]]:
    """Let a database with the workshop in it be the one that commands are about."""
    before = os.environ.get("DATABASE_URL")
    os.environ["DATABASE_URL"] = address
    plan = room / "plan.json"
    plan.write_text(json.dumps(large_plan(cars, jobs)))
    manage("migrate", "-v0")
    manage("import_plan", str(plan), "--stop-clock")
    try:
        yield json.loads(manage("shell", "-v0", "-c", FILL).rpartition("facts ")[2])
    finally:
        if before is not None:
            os.environ["DATABASE_URL"] = before


@contextmanager
def worker_running(room: Path) -> Iterator[None]:
    """Let a worker, niced as it is when served, work out what the acts ask for."""
    worker = ["nice", "-n", "10", sys.executable, "-m", "celery", "-A", "builds"]
    with running([*worker, "worker", "--pool", "solo"], room / "worker.log"):
        yield


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
