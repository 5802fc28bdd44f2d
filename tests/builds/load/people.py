"""What people do all day, for locust: twenty at the bench, five leads, five customers.

Sessions and keys are in the file that LOAD_FACTS names; `run.py` writes it. A page
that is not there, or leads elsewhere, is a failure.
"""

from __future__ import annotations

import itertools
import json
import os
import random
import time
from pathlib import Path

from locust import FastHttpUser, between, task

FACTS = json.loads(Path(os.environ["LOAD_FACTS"]).read_text())
PACE = os.environ.get("LOAD_PACE", "")  # requests a second for each; else they think
CSRF = "a" * 32


class Somebody(FastHttpUser):
    """The plain one takes as much of the processor for a request as some pages do."""

    abstract = True
    think = staticmethod(between(1, 5))  # type: ignore[no-untyped-call]
    role = ""
    number = itertools.count()

    def on_start(self) -> None:
        sessions = FACTS["sessions"][self.role]
        session = sessions[next(self.number) % len(sessions)]
        self.clear: list[str] = FACTS["clear"].pop(session, [])
        self.started: list[str] = []
        self.next_at = time.monotonic()
        self.heads = {
            "Cookie": f"__Host-session={session}; __Host-csrf={CSRF}",
            "X-CSRFToken": CSRF,
            "X-Forwarded-Proto": "https",
            "Referer": f"https://127.0.0.1:{FACTS['port']}/",
            "Accept-Encoding": "gzip",
            "Connection": "close",  # as a proxy calls, unless it is told otherwise
        }

    def wait_time(self) -> float:
        """At a pace, ask at moments of one's own: sixty who keep step are a burst.

        The gaps are exponential, so what arrives is a Poisson stream however long the
        answers take; who is late asks at once.
        """
        if not PACE:
            return float(self.think(self))
        self.next_at += random.expovariate(float(PACE))
        return max(0.0, self.next_at - time.monotonic())

    def look(self, path: str, name: str = "") -> None:
        with self.client.get(
            path,
            name=name or path,
            headers=self.heads,
            allow_redirects=False,
            catch_response=True,
        ) as answer:
            if answer.status_code != 200:
                answer.failure(f"{path} answered {answer.status_code}")

    def tell(self, path: str, name: str, **sent: str) -> bool:
        """Write: nine looks for one of these."""
        with self.client.post(
            path,
            sent,
            name=name,
            headers=self.heads,
            allow_redirects=False,
            catch_response=True,
        ) as answer:
            done: bool = answer.status_code == 302
            if not done:
                answer.failure(f"{path} answered {answer.status_code}")
            return done

    def trouble(self, path: str) -> None:
        words = f"{random.random()}"
        self.tell(path, "act: trouble", reason="A part is wrong", words=words)


class Technician(Somebody):
    role = "technician"
    weight = 20
    number = itertools.count()

    @task(6)
    def bench(self) -> None:
        self.look("/bench/")

    @task(3)
    def job(self) -> None:
        self.look(f"/bench/{random.choice(FACTS['jobs'])}/", "/bench/job/")

    @task(1)
    def act(self) -> None:
        """Start what is clear, put it down, end it, or say what is wrong."""
        turn = random.random()
        if self.clear and (turn < 0.4 or not self.started):
            self.started.append(self.clear.pop())
            self.tell(f"/bench/{self.started[-1]}/start/", "act: start")
        elif turn < 0.6 or not self.started:
            self.trouble(f"/bench/{random.choice(FACTS['jobs'])}/trouble/")
        elif turn < 0.85:
            left = f"{random.randrange(1, 40) / 4}h"
            key = random.choice(self.started)
            self.tell(f"/bench/{key}/stop/", "act: put down", how="left", left=left)
        else:
            key = self.started.pop()
            self.tell(f"/bench/{key}/finish/", "act: finish")


class Lead(Somebody):
    role = "lead"
    weight = 5
    number = itertools.count()

    @task(2)
    def morning(self) -> None:
        self.look("/morning/")

    @task(3)
    def car(self) -> None:
        self.look(f"/cars/{random.choice(FACTS['cars'])}/", "/cars/car/")

    @task(3)
    def job(self) -> None:
        self.look(f"/jobs/{random.choice(FACTS['jobs'])}/", "/jobs/job/")

    @task(1)
    def people(self) -> None:
        self.look("/people/")

    @task(1)
    def act(self) -> None:
        if random.random() < 0.5:
            self.trouble(f"/jobs/{random.choice(FACTS['jobs'])}/trouble/")
            return
        key, day = random.choice(FACTS["outside"]), random.randrange(1, 29)
        self.tell(
            f"/jobs/{key}/promise/",
            "act: promise",
            promised=f"2027-09-{day:02}",
            said=f"{random.random()}",
        )


class Customer(Somebody):
    role = "customer"
    weight = 5
    number = itertools.count()

    @task
    def car(self) -> None:
        self.look("/my-car/")
