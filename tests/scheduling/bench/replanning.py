"""One edit of the demo workshop in the database, and the re-plan after it."""

import time
from functools import cache
from itertools import count

from django.core.management import call_command

from builds.models import Job
from builds.planning.replan import replan

edits = count(1)


@cache
def _demo_workshop() -> None:
    from builds.actions.demo import load_demo

    call_command("migrate", verbosity=0)
    load_demo()


def one_edit() -> float:
    """Return the seconds from one job's longer estimate to the kept answer."""
    _demo_workshop()
    job = Job.objects.filter(state="open", kind="bench", likely__gt=1).first()
    assert job is not None
    longer = (job.likely or 1.0) + next(edits) / 4
    Job.objects.filter(pk=job.pk).update(likely=longer, high=None, low=None)
    began = time.perf_counter()
    forecast = replan()
    assert forecast.seconds > 0
    return time.perf_counter() - began
