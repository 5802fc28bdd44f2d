"""The one place that asks the engine, so that every question is asked alike.

What if, forecast and long look draw the same futures (common random numbers) because
samples, tries and seed are chosen here and nowhere else.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from django.conf import settings

import scheduling
from builds.planning.pulse import Watch

Facts = dict[str, Any]


def ask(
    plan: scheduling.Plan,
    *,
    seconds: float | None = None,
    following: Mapping[str, Any] | None = None,
    watch: Watch | None = None,
) -> Facts:
    """Answer a plan with the usual effort, or look `seconds` long for a better one.

    `following` is the answer people work to; `watch` hears the share done and says
    whether to go on.
    """
    return scheduling.answer(
        plan, **effort(plan, seconds), **_along(following, watch)
    ).as_dict()


def effort(plan: scheduling.Plan, seconds: float | None = None) -> dict[str, Any]:
    """Give how hard the engine tries: counted tries, unless there is time to spend."""
    samples = min(plan.samples, settings.FORECAST_SAMPLES)
    if seconds is None:
        return {"schedules": settings.FORECAST_SCHEDULES, "samples": samples}
    return {"seconds": seconds, "samples": samples}


def digest(plan: scheduling.Plan, options: Mapping[str, Any]) -> str:
    """Give the name of a question: the plan, what is asked for, and which engine."""
    asked = json.dumps(dict(options), sort_keys=True)
    words = "\0".join((engine_print(), asked, scheduling.dump_plan(plan)))
    return hashlib.sha256(words.encode()).hexdigest()


@cache
def engine_print() -> str:
    """Give the engine's own hash, so that another engine is another question."""
    whole = hashlib.sha256()
    folder = Path(scheduling.__file__).parent
    for path in sorted(folder.rglob("*.py")):
        whole.update(path.relative_to(folder).as_posix().encode() + b"\0")
        whole.update(path.read_bytes())
    return whole.hexdigest()


def _along(following: Mapping[str, Any] | None, watch: Watch | None) -> dict[str, Any]:
    return {}
