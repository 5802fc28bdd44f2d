"""Thirty people on a large workshop, on both databases: `make load`.

LOAD_SECONDS for each part (60), LOAD_CARS and LOAD_JOBS for the size (60 of 80). The
generator runs on the same machine, so figures are worse than for people elsewhere. A
request that failed fails the run; how long they took is only shown beside what is
wanted, as the machine may have other things to do.
"""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
import tempfile
import threading
from pathlib import Path
from typing import NamedTuple

from tests.builds.bench.stack import ROOT, redis_running
from tests.builds.faults.postgres import Postgres, programs
from tests.builds.faults.site import free_port
from tests.builds.load.site import manage, served
from tests.builds.load.weight import bench_weight

SECONDS = int(os.environ.get("LOAD_SECONDS", "60"))
CARS = int(os.environ.get("LOAD_CARS", "60"))
JOBS = int(os.environ.get("LOAD_JOBS", "80"))


class Row(NamedTuple):
    """One line of the table."""

    what: str
    requests: int
    failed: int
    a_second: float
    p95: int
    p99: int
    wanted: str

    def __str__(self) -> str:
        return (
            f"{self.what:34} {self.requests:8} {self.failed:7} {self.a_second:9.1f}"
            f" {self.p95:8} {self.p99:8}  {self.wanted}"
        )


def crowd(
    room: Path, facts: dict, what: str, people: int, pace: str, wanted: str
) -> Row:
    """Let them in, and give what they saw."""
    told = room / "facts.json"
    told.write_text(json.dumps(facts))
    out = room / "seen"
    command = [sys.executable, "-m", "locust", "-f", "tests/builds/load/people.py"]
    command += ["--headless", "-u", str(people), "-r", "10", "-t", f"{SECONDS}s"]
    command += ["--csv", str(out), "--only-summary", "--reset-stats"]
    command += ["-H", f"http://127.0.0.1:{facts['port']}", "--exit-code-on-error", "0"]
    more = {"LOAD_FACTS": str(told), "LOAD_PACE": pace}
    subprocess.run(
        command, cwd=ROOT, env=os.environ | more, capture_output=True, check=True
    )
    with (room / "seen_stats.csv").open() as file:
        rows = list(csv.DictReader(file))
    for row in rows[:-1]:
        print(f"    {row['Name']:16} {row['Request Count']:>6} p95 {row['95%']:>6} ms")
    whole = rows[-1]
    return Row(
        what,
        int(whole["Request Count"]),
        int(whole["Failure Count"]),
        float(whole["Requests/s"]),
        int(whole["95%"]),
        int(whole["99%"]),
        wanted,
    )


def parts(room: Path, facts: dict, name: str) -> list[Row]:
    """Run L1, L1 beside a worker that simulates, and L2."""
    calm = crowd(room, facts, f"L1 30 people, {name}", 30, "", "0, p95 300, p99 800")
    over = threading.Event()

    def simulate() -> None:
        while not over.is_set():
            manage("shell", "-v0", "-c", SIMULATE)

    beside = threading.Thread(target=simulate)
    beside.start()
    most = f"0, p95 {calm.p95 * 1.5:.0f} at most"
    busy = crowd(room, facts, f"L5 the same, a worker busy, {name}", 30, "", most)
    over.set()
    beside.join()
    fast = crowd(room, facts, f"L2 60 a second, {name}", 60, "1", "0, p95 400")
    return [calm, busy, fast]


SIMULATE = """
from builds.models import Forecast
from builds.planning.replan import replan
Forecast.objects.filter(state="done").update(input_hash="")
replan()
"""


def main() -> None:
    print(f"{CARS} cars of {JOBS} jobs, {SECONDS} s for each part")
    rows: list[Row] = []
    with tempfile.TemporaryDirectory() as name, redis_running(Path(name)) as redis:
        room = Path(name)
        with served(room, f"sqlite:///{room}/load.sqlite3", redis, CARS, JOBS) as facts:
            weight = bench_weight(facts)
            rows += parts(room, facts, "SQLite")
        if programs():
            server = Postgres(free_port())
            try:
                address = server.create("load")
                with served(room, address, redis, CARS, JOBS) as facts:
                    rows += parts(room, facts, "PostgreSQL")
            finally:
                server.remove()
    print(f"{'':34} requests  failed  a second   p95 ms   p99 ms  wanted")
    for row in rows:
        print(row)
    print(weight)
    if any(row.failed for row in rows):
        raise SystemExit("Requests failed.")


if __name__ == "__main__":
    main()
