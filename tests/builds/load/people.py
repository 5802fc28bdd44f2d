"""What people do all day, for locust: twenty at the bench, five leads, five customers.

Sessions and keys are in the file that LOAD_FACTS names; `run.py` writes it.
"""

from __future__ import annotations

import json
import os
import random
from pathlib import Path

from locust import HttpUser, between, constant_throughput, task

FACTS = json.loads(Path(os.environ["LOAD_FACTS"]).read_text())
PACE = os.environ.get("LOAD_PACE", "")  # requests a second for each; else they think
CSRF = "a" * 32


class Somebody(HttpUser):
    abstract = True
    wait_time = constant_throughput(float(PACE)) if PACE else between(1, 5)  # type: ignore[no-untyped-call]
    role = ""

    def on_start(self) -> None:
        session = FACTS["sessions"][self.role]
        self.client.headers.update(
            {
                "Cookie": f"__Host-session={session}; __Host-csrf={CSRF}",
                "X-CSRFToken": CSRF,
                "X-Forwarded-Proto": "https",
                "Referer": f"https://127.0.0.1:{FACTS['port']}/",
                "Accept-Encoding": "gzip",
            }
        )

    def look(self, path: str, name: str = "") -> None:
        self.client.get(path, name=name or path, allow_redirects=False)

    def tell(self, path: str) -> None:
        """Write: nine looks for one of these."""
        sent = {"reason": "A part is wrong", "words": f"{random.random()}"}
        with self.client.post(
            path, sent, name="write", allow_redirects=False, catch_response=True
        ) as answer:
            if answer.status_code != 302:
                answer.failure(f"answered {answer.status_code}")


class Technician(Somebody):
    role = "technician"
    weight = 20

    @task(6)
    def bench(self) -> None:
        self.look("/bench/")

    @task(3)
    def job(self) -> None:
        self.look(f"/bench/{random.choice(FACTS['jobs'])}/", "/bench/job/")

    @task(1)
    def trouble(self) -> None:
        self.tell(f"/bench/{random.choice(FACTS['jobs'])}/trouble/")


class Lead(Somebody):
    role = "lead"
    weight = 5

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
    def trouble(self) -> None:
        self.tell(f"/jobs/{random.choice(FACTS['jobs'])}/trouble/")


class Customer(Somebody):
    role = "customer"
    weight = 5

    @task
    def car(self) -> None:
        self.look("/my-car/")
