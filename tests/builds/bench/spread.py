"""How many plans one worker answers and how many two: `make bench-spread`.

Real Redis, real workers, all started and stopped here. Then a web server is started
and asked at once: what the first visitor waits. Wall time, so other work on the
machine shows; the ratio is of one run. Stops by itself within three minutes or so.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
import urllib.request
from contextlib import ExitStack
from pathlib import Path

import django

from tests.builds.bench.stack import (
    free_port,
    listens,
    manage,
    redis_running,
    running,
    wait_until,
    web_command,
    worker_command,
)

PLANS = 12
EFFORT = {"schedules": 4, "samples": 2500}  # as a forecast is made
PATIENCE = 120.0  # seconds for any one step; only a busy machine needs them
GOAL = 2.0  # seconds for the first request after a start


def main() -> None:
    plans = int(sys.argv[1]) if len(sys.argv) > 1 else PLANS
    with tempfile.TemporaryDirectory() as folder, ExitStack() as stack:
        room = Path(folder)
        os.environ |= {
            "DJANGO_SETTINGS_MODULE": "builds.settings",
            "DATABASE_URL": f"sqlite:///{room / 'bench.sqlite3'}",
            "REDIS_URL": stack.enter_context(redis_running(room)),
            "DEBUG": "1",
            "DEMO": "1",
        }
        manage("migrate", "-v0")
        django.setup()
        spread_over_workers(room, plans)
        first_request(room)


def spread_over_workers(room: Path, plans: int) -> None:
    print(
        f"{plans} plans of the sample workshop's size, {EFFORT}, {os.cpu_count()} cores"
    )
    print(f"{'workers':>8}{'wall s':>10}{'plans a minute':>18}{'ratio':>8}")
    alone = 0.0
    for workers in (1, 2):
        seconds = answered_in(room, workers, plans)
        alone = alone or seconds
        row = f"{workers:8}{seconds:10.1f}{60 * plans / seconds:18.1f}"
        print(f"{row}{alone / seconds:8.2f}", flush=True)


def answered_in(room: Path, workers: int, plans: int) -> float:
    """Give the wall time from handing over to the last answer, workers warm."""
    from builds.models import FileState, PlanFile
    from builds.tasks.files import spread

    def done() -> int:
        return PlanFile.objects.filter(state=FileState.DONE).count()

    PlanFile.objects.all().delete()
    log = room / f"workers-{workers}.log"
    with ExitStack() as stack:
        for number in range(workers):
            stack.enter_context(running(worker_command(number), log))
        wait_until(lambda: log.read_text().count("Warm after") == workers, PATIENCE)
        files = handed_in(plans)
        began = time.monotonic()
        spread(files)
        wait_until(lambda: done() == plans, PATIENCE)
        return time.monotonic() - began


def handed_in(plans: int) -> list[int]:
    """Keep plans of the same size that are all different questions."""
    import json

    from builds.demo.plan import demo_plan
    from builds.planning.many import hand_in

    rows = demo_plan()
    texts = [json.dumps(rows | {"seed": seed}) for seed in range(plans)]
    return [hand_in(text, EFFORT).pk for text in texts]


def first_request(room: Path) -> None:
    """Print what the first visitor waits after a start, and what a what-if takes."""
    cookie = signed_in()
    port = free_port()
    site = f"http://127.0.0.1:{port}"
    began = time.monotonic()
    with running(web_command(port), room / "web.log"):
        wait_until(lambda: listens(port), PATIENCE)
        print(f"\nThe web server listens after {time.monotonic() - began:.1f} s. Then:")
        for words, path in (
            ("first page, the morning sheet", "/morning/"),
            ("first what if", "/jobs/q114-x03/knock-on/?days=5"),
            ("second what if", "/jobs/q114-x03/knock-on/?days=6"),
            ("third what if", "/jobs/q114-x03/knock-on/?days=7"),
        ):
            asked = urllib.request.Request(site + path, headers={"Cookie": cookie})
            began = time.monotonic()
            with urllib.request.urlopen(asked, timeout=PATIENCE) as page:
                page.read()
            print(f"{words:34}{time.monotonic() - began:8.2f} s")
    print(f"Goal: the first request at most {GOAL:.0f} s.")


def signed_in() -> str:
    """Load the sample workshop, answer it, and give the lead's cookie."""
    from django.conf import settings
    from django.test import Client

    from builds.actions.demo import load_demo
    from builds.models import Role, User
    from builds.planning.replan import replan

    load_demo()
    replan()
    client = Client()
    client.force_login(User.objects.filter(role=Role.LEAD)[0])
    name = settings.SESSION_COOKIE_NAME
    return f"{name}={client.cookies[name].value}"


if __name__ == "__main__":
    main()
