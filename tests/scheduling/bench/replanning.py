"""One edit of the demo workshop, from the press of the button to the page after it.

Where the time goes, as medians: the action writes the row (`write`) and asks whether
the plan still makes sense (`check`); after the commit the plan is read from its rows
(`plan`), the engine answers (`engine`), the answer is kept (`store`), and the build
sheet is shown (`page`).
"""

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from statistics import median
from typing import Any
from unittest import mock

from django.conf import settings
from django.core.management import call_command
from django.test import Client
from django.urls import reverse

import builds.actions.record
import builds.tasks.replan
import scheduling
from builds.actions.demo import load_demo
from builds.actions.jobs import change_job
from builds.models import Forecast, Job, User
from builds.planning.warm import keep_what_is_loaded
from scheduling.solve import Answer

GOAL = 250
PARTS = ("write", "check", "plan", "engine", "store", "page")

Seconds = tuple[float, float]  # of the processor, and on the wall
Moments = dict[str, Seconds]
Spans = dict[str, Seconds]


def print_edit(repeats: int) -> None:
    """Print the medians of the parts of one edit, and of the whole."""
    call_command("migrate", verbosity=0)
    load_demo()
    lead = User.objects.filter(role="lead").first()
    assert lead is not None
    settings.ALLOWED_HOSTS, settings.DEBUG = ["testserver"], False
    client = Client()
    client.force_login(lead)
    one_edit(client, lead, 0)  # warms up
    keep_what_is_loaded()  # as a web process does when it is warm
    found = [one_edit(client, lead, number) for number in range(1, repeats + 1)]
    print("\nOne edit of the demo workshop, Django on SQLite, all done on the spot;")
    print(f"medians of {repeats} edits after one to warm up.")
    print(f"{'':34}{'processor ms':>14}{'wall ms':>10}")
    for part in PARTS:
        _print_row(part, [one[part] for one in found])
    answered = [_sum(one, PARTS[:-1]) for one in found]
    _print_row("edit to answer", answered)
    _print_row(
        "without the engine", [_sum(one, PARTS[:3] + PARTS[4:5]) for one in found]
    )
    print(f"Goal: edit to answer at most {GOAL} ms on a quiet machine.")


def one_edit(client: Client, lead: User, number: int) -> Spans:
    """Change one job's estimate as the page does; give the time of each part."""
    job = Job.objects.filter(state="open", kind="bench", likely__gt=1).first()
    assert job is not None
    fields = {"likely": 6.0 + number / 4, "low": None, "high": None}
    moments: Moments = {}
    with _watched(moments):
        moments["begin"] = _now()
        change_job(by=lead, job=job, fields=fields, version=job.version)
    newest = Forecast.objects.latest_done()
    assert newest is not None
    assert newest.answer["jobs"][job.key]["duration_hours"] == fields["likely"]
    assert job.build is not None
    shown = _now()
    page = client.get(reverse("car", args=[job.build.key]))
    assert page.status_code == 200
    spans = {
        "write": _between(moments, "begin", "replan"),
        "check": _between(moments, "check", "checked"),
        "plan": _between(moments, "replan", "engine"),
        "engine": _between(moments, "engine", "told"),
        "store": _between(moments, "told", "replanned"),
        "page": _less(_now(), shown),
    }
    return spans | {"write": _less(spans["write"], spans["check"])}


@contextmanager
def _watched(moments: Moments) -> Iterator[None]:
    """Note when each part of an edit begins and ends."""
    with ExitStack() as stack:
        for home, name, begin, end in (
            (builds.actions.record, "check_what_it_broke", "check", "checked"),
            (builds.tasks.replan, "replan", "replan", "replanned"),
            (scheduling, "answer", "engine", "solved"),
            (Answer, "as_dict", "telling", "told"),
        ):
            noted = _noted(moments, getattr(home, name), begin, end)
            stack.enter_context(mock.patch.object(home, name, noted))
        yield


def _noted(moments: Moments, call: Callable[..., Any], begin: str, end: str) -> Any:
    def noted(*values: Any, **options: Any) -> Any:
        moments[begin] = _now()
        result = call(*values, **options)
        moments[end] = _now()
        return result

    return noted


def _now() -> Seconds:
    return time.process_time(), time.perf_counter()


def _less(one: Seconds, other: Seconds) -> Seconds:
    return one[0] - other[0], one[1] - other[1]


def _between(moments: Moments, begin: str, end: str) -> Seconds:
    return _less(moments[end], moments[begin])


def _sum(spans: Spans, parts: tuple[str, ...]) -> Seconds:
    return sum(spans[one][0] for one in parts), sum(spans[one][1] for one in parts)


def _print_row(words: str, times: list[Seconds]) -> None:
    processor, wall = (1000 * median(kind) for kind in zip(*times, strict=True))
    print(f"{words:34}{processor:14.0f}{wall:10.0f}")
