"""A gunicorn of our own, and somebody who looks at it as a browser would."""

from __future__ import annotations

import http.client
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

ROOT = Path(__file__).resolve().parents[3]
CSRF = "a" * 32
WAIT = 90


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@dataclass
class Answer:
    """What came back; status 0: nothing, the connection broke."""

    status: int
    text: str = ""
    heads: dict[str, str] = field(default_factory=dict)


class Site:
    """The site on a port of its own, behind an imagined proxy that speaks HTTPS."""

    def __init__(
        self,
        port: int,
        session: str,
        environment: dict,
        log: Path,
        root: Path = ROOT,
    ) -> None:
        self.port, self.session, self.log = port, session, log
        command = ("-m", "gunicorn", "builds.wsgi", "--bind", f"127.0.0.1:{port}")
        more = ("--workers", "2", "--threads", "4", "--graceful-timeout", "30")
        with log.open("wb") as out:
            self.process = subprocess.Popen(
                [sys.executable, *command, *more, "--log-level", "info"],
                cwd=root,
                env=environment,
                stdout=out,
                stderr=out,
            )
        until(lambda: self.get("/healthz").status == 200, self._said)

    def _said(self) -> str:
        return self.log.read_text()[-2000:]

    def get(self, path: str) -> Answer:
        return self._ask("GET", path)

    def post(self, path: str, **typed: str) -> Answer:
        return self._ask("POST", path, urlencode(typed))

    def report(self, job: str, words: str) -> Answer:
        """Write something down that can be found again; 302 is the promise kept."""
        address = f"/jobs/{job}/trouble/"
        return self.post(address, reason="A part is wrong", words=words)

    def _ask(self, method: str, path: str, body: str | None = None) -> Answer:
        cookies = f"__Host-session={self.session}; __Host-csrf={CSRF}"
        heads = {
            "Cookie": cookies,
            "X-CSRFToken": CSRF,
            "X-Forwarded-Proto": "https",
            "Referer": f"https://127.0.0.1:{self.port}/",
        }
        if body is not None:
            heads["Content-Type"] = "application/x-www-form-urlencoded"
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            line.request(method, path, body, heads)
            found = line.getresponse()
            heads = dict(found.headers)
            stranger = heads.get("Location", "").startswith("/sign-in/")
            status = 401 if stranger else found.status
            return Answer(status, found.read().decode(), heads)
        except OSError as error:
            return Answer(0, repr(error))
        except http.client.HTTPException as error:
            return Answer(0, repr(error))
        finally:
            line.close()

    def stop(self) -> None:
        self.process.send_signal(signal.SIGTERM)
        try:
            self.process.wait(timeout=45)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait(timeout=10)


def until(holds: Callable[[], bool], why: Callable[[], object] = str) -> None:
    """Wait for something to hold, as long as a slow machine may take."""
    ends = time.monotonic() + WAIT
    while not holds():
        assert time.monotonic() < ends, why()
        time.sleep(0.1)


class Crowd:
    """People who do the same thing over and over until told to stop."""

    def __init__(self, act: Callable[[int, int], Answer], people: int) -> None:
        self.done: list[tuple[str, Answer]] = []
        self._over = threading.Event()
        self._act = act
        self._threads = [
            threading.Thread(target=self._go_on, args=(one,), daemon=True)
            for one in range(people)
        ]
        for thread in self._threads:
            thread.start()

    def _go_on(self, person: int) -> None:
        for turn in range(100_000):
            if self._over.is_set():
                return
            self.done.append((f"{person}-{turn}", self._act(person, turn)))

    def goes_on(self, more: int = 12) -> None:
        """Wait until so many more answers have come that are as wished."""
        begun = len(self.done)
        until(lambda: sum(map(well, self.done[begun:])) >= more, self.told)

    def __enter__(self) -> Crowd:
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def told(self) -> str:
        return str([answer.status for _, answer in self.done][-20:])

    def stop(self) -> list[tuple[str, Answer]]:
        self._over.set()
        for thread in self._threads:
            thread.join()
        return self.done


def well(one: tuple[str, Answer]) -> bool:
    return one[1].status in (200, 302)
