"""Thirty people on a large workshop, on both databases: `make load`.

LOAD_SECONDS for each part (60), LOAD_CARS and LOAD_JOBS for the size (60 of 80),
LOAD_DATABASES for one of the two makes alone. The generator runs on the same machine,
so figures are worse than for people elsewhere. A request that failed fails the run;
how long they took is only shown beside what is wanted, as the machine may have other
things to do.
"""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from tests.builds.bench.stack import ROOT, redis_running
from tests.builds.faults.postgres import Postgres, programs
from tests.builds.faults.site import free_port
from tests.builds.load.queries import query_lines
from tests.builds.load.site import manage, served, worker_running
from tests.builds.load.spent import said, spent
from tests.builds.load.weight import bench_weight

SECONDS = int(os.environ.get("LOAD_SECONDS", "60"))
CARS = int(os.environ.get("LOAD_CARS", "60"))
JOBS = int(os.environ.get("LOAD_JOBS", "80"))
DATABASES = os.environ.get("LOAD_DATABASES", "SQLite PostgreSQL").split()


class Row(NamedTuple):
    """One line of the table."""

    what: str
    requests: int
    failed: int
    a_second: float
    p95: int
    p99: int
    wanted: str
    took: str

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
    before = spent(facts["heads"])
    subprocess.run(
        command, cwd=ROOT, env=os.environ | more, capture_output=True, check=True
    )
    after = spent(facts["heads"])
    with (room / "seen_stats.csv").open() as file:
        rows = list(csv.DictReader(file))
    for row in rows[:-1]:
        print(
            f"    {row['Name']:16} {row['Request Count']:>6}"
            f" p50 {row['50%']:>6} p95 {row['95%']:>6} p99 {row['99%']:>6} ms",
            flush=True,
        )
    with (room / "seen_failures.csv").open() as file:
        for row in csv.DictReader(file):
            print(f"    {row['Occurrences']} times: {row['Error']}", flush=True)
    whole = rows[-1]
    count = int(whole["Request Count"])
    return Row(
        what,
        count,
        int(whole["Failure Count"]),
        float(whole["Requests/s"]),
        int(whole["95%"]),
        int(whole["99%"]),
        wanted,
        said(before, after, count),
    )


def parts(room: Path, facts: dict, name: str) -> list[Row]:
    """Run L1, L1 beside a worker that simulates all the while, and L2."""
    first, second, third = (_third(facts, number) for number in range(3))
    calm = crowd(room, first, f"L1 30 people, {name}", 30, "", "0, p95 300, p99 800")
    most = f"0, p95 {calm.p95 * 1.5:.0f} at most"
    with worker_running(room):
        what = f"L5 the same, a worker busy, {name}"
        busy = crowd(room, second, what, 30, "", most)
    fast = crowd(room, third, f"L2 60 a second, {name}", 63, "1", "0, p95 400")
    return [calm, busy, fast]


def _third(facts: dict, number: int) -> dict:
    """Give each part jobs of its own to start: what is begun cannot be begun again."""
    clear = {session: jobs[number::3] for session, jobs in facts["clear"].items()}
    return facts | {"clear": clear}


def forecast_line(name: str) -> str:
    """Say how long the forecasts took that were worked out meanwhile."""
    took = json.loads(manage("shell", "-v0", "-c", TOOK).rpartition("took ")[2])
    each = ", ".join(f"{one:.1f}" for one in took) or "none ended"
    return f"L5 {name}: forecasts of the whole took {each} s (wanted 30 at most)"


TOOK = """
import json
from builds.models import Forecast
done = Forecast.objects.filter(state="done").order_by("pk")
print("took", json.dumps([one.seconds for one in done.defer("summary")]))
"""


@contextmanager
def database_running(room: Path, name: str) -> Iterator[tuple[str, dict[str, int]]]:
    """Give the address of an empty database of that make, and its server, if any."""
    if name == "SQLite":
        yield f"sqlite:///{room}/load.sqlite3", {}
        return
    server = Postgres(free_port())
    try:
        yield server.create("load"), {"database": server.head()}
    finally:
        server.remove()


def measured(
    room: Path, redis: str, name: str, address: str, heads: dict[str, int]
) -> tuple[list[Row], list[str]]:
    """Run everything on one database; give the table and what is no part of it."""
    with served(room, address, redis, CARS, JOBS) as facts:
        facts["heads"] = {"pages": facts["web"], **heads}
        lines = [bench_weight(facts)] if name == "SQLite" else []
        lines += query_lines(room, facts) if name == "SQLite" else []
        return parts(room, facts, name), [*lines, forecast_line(name)]


def main() -> None:
    print(f"{CARS} cars of {JOBS} jobs, {SECONDS} s for each part")
    rows: list[Row] = []
    lines: list[str] = []
    with tempfile.TemporaryDirectory() as name, redis_running(Path(name)) as redis:
        for database in DATABASES:
            if database == "SQLite" or programs():
                with database_running(Path(name), database) as (address, heads):
                    found, told = measured(Path(name), redis, database, address, heads)
                    rows += found
                    lines += told
    print(f"{'':34} requests  failed  a second   p95 ms   p99 ms  wanted")
    for row in rows:
        print(row)
    for row in rows:
        print(f"{row.what}: {row.took}")
    print("\n".join(lines))
    if any(row.failed for row in rows):
        raise SystemExit("Requests failed.")


if __name__ == "__main__":
    main()
