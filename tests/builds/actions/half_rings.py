"""Two people who each add half of a ring, at the same moment, many times over.

Run by itself, with DATABASE_URL, it makes the tables first: two who write meet on
SQLite only in a file.
"""

from __future__ import annotations

from threading import Barrier, Thread

import django
from django.core.management import call_command
from django.db import connection

ROUNDS = 12


def refusals() -> list[int]:
    """Give for each round how many of the two were refused."""
    # Needs the settings, which a run by itself reads first.
    from builds.actions.errors import RingFound
    from builds.actions.links import add_link
    from builds.models import Job, User
    from tests.factories.build import BuildFactory
    from tests.factories.job import JobFactory
    from tests.factories.workshop import CalendarFactory, WorkshopFactory

    CalendarFactory()
    WorkshopFactory()
    lead = User.objects.create(username="lena", role="lead")
    car = BuildFactory()

    def add(job: Job, before: Job, both: Barrier, refused: list[str]) -> None:
        both.wait()
        try:
            add_link(by=lead, job=job, before=before)
        except RingFound as error:
            refused.append(error.words)
        finally:
            connection.close()

    found = []
    for _ in range(ROUNDS):
        fit = JobFactory(build=car)
        weld = JobFactory(build=car, after=[fit])
        paint = JobFactory(build=car)
        both, refused = Barrier(2), list[str]()
        pair = [
            Thread(target=add, args=(paint, weld, both, refused)),
            Thread(target=add, args=(fit, paint, both, refused)),
        ]
        for one in pair:
            one.start()
        for one in pair:
            one.join()
        found.append(len(refused))
    return found


if __name__ == "__main__":
    django.setup()
    call_command("migrate", verbosity=0)
    print(refusals())
