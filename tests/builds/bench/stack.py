"""A throw-away Redis, workers and a web server for a benchmark; all stopped after."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def wait_until(true: Callable[[], bool], seconds: float, every: float = 0.05) -> None:
    ends = time.monotonic() + seconds
    while not true():
        if time.monotonic() > ends:
            raise SystemExit(f"Nothing came of it in {seconds:.0f} s; given up.")
        time.sleep(every)


def listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


@contextmanager
def running(command: list[str], log: Path) -> Iterator[subprocess.Popen[bytes]]:
    """Run a command beside us, and stop it and what it started."""
    with log.open("ab") as out:
        process = subprocess.Popen(
            command, cwd=ROOT, stdout=out, stderr=out, env=dict(os.environ)
        )
    try:
        yield process
    finally:
        process.terminate()
        with suppress(subprocess.TimeoutExpired):
            process.wait(timeout=20)
        process.kill()


@contextmanager
def redis_running(room: Path) -> Iterator[str]:
    """Give the address of an empty Redis."""
    path = shutil.which("redis-server")
    if path is None:
        raise SystemExit("There is no redis-server here: apt-get install redis-server.")
    port = free_port()
    command = [path, "--port", str(port), "--bind", "127.0.0.1", "--save", ""]
    with running([*command, "--dir", str(room)], room / "redis.log"):
        wait_until(lambda: listens(port), 10)
        yield f"redis://127.0.0.1:{port}/0"


def worker_command(number: int) -> list[str]:
    celery = [sys.executable, "-m", "celery", "-A", "builds", "worker"]
    return [*celery, "--pool", "solo", "-n", f"w{number}@bench", "-l", "info"]


def web_command(port: int) -> list[str]:
    address = f"127.0.0.1:{port}"
    gunicorn = [sys.executable, "-m", "gunicorn", "builds.wsgi", "--bind", address]
    return [*gunicorn, "--workers", "2", "--threads", "4", "--log-level", "warning"]


def manage(*command: str) -> None:
    subprocess.run([sys.executable, "manage.py", *command], cwd=ROOT, check=True)
