"""A worker whose engine waits at a gate, so that a test can do something meanwhile.

`celery -A tests.builds.tasks.held_worker worker`, with the gate's folder in HOLD:
the engine waits while the file `hold` names what it is asked for ("replan",
"search"); every call leaves a line in `calls`.
"""

from __future__ import annotations

import os
import time
from pathlib import Path

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")
django.setup()

from builds.celery import app as app  # noqa: E402
from builds.planning import engine, replan, search  # noqa: E402

ROOM = Path(os.environ["HOLD"])
HALF = 0.5


def wait(kind, watch):
    with (ROOM / "calls").open("a") as calls:
        calls.write(f"{kind}\n")
    while kind in (ROOM / "hold").read_text() and watch(HALF):
        time.sleep(0.05)


def held_ask(plan, *, watch, **effort):
    wait("replan", watch)
    return engine.ask(plan, watch=watch, **effort)


def held_look(plan, *, seconds, watch, **effort):
    wait("search", watch)
    return engine.look(plan, seconds=0.1, watch=watch, **effort)


replan.ask, search.look = held_ask, held_look
