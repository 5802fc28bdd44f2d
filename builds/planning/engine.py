"""The one place that asks the engine, so that every question is asked alike.

What if, forecast and long look draw the same futures (common random numbers) because
samples, tries and seed are chosen here and nowhere else.
"""

from __future__ import annotations

import hashlib
import json
import os
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
    following: Mapping[str, Any] | None = None,
    watch: Watch | None = None,
) -> Facts:
    """Answer a plan with the usual effort.

    `following` is the answer people work to; `watch` hears the share done and says
    whether to go on.
    """
    return scheduling.answer(
        plan, following=following, watch=watch, **effort(plan)
    ).as_dict()


def look(
    plan: scheduling.Plan,
    *,
    seconds: float,
    turn: int,
    following: Mapping[str, Any],
    watch: Watch,
) -> Facts:
    """Look for a better plan, on all cores but the one that serves the pages."""
    return scheduling.improve(
        plan,
        seconds=seconds,
        samples=effort(plan)["samples"],
        following=following,
        watch=watch,
        workers=max(1, (os.cpu_count() or 1) - 1),
        turn=turn,
    ).as_dict()


def effort(plan: scheduling.Plan) -> dict[str, int]:
    """Give how hard the engine usually tries: counted tries, not seconds."""
    samples = min(plan.samples, settings.FORECAST_SAMPLES)
    return {"schedules": settings.FORECAST_SCHEDULES, "samples": samples}


def digest(plan: scheduling.Plan, options: Mapping[str, Any]) -> str:
    """Give the name of a question: the plan, what is asked for, and which engine."""
    asked = json.dumps(dict(options), sort_keys=True)
    words = "\0".join((engine_print(), asked, scheduling.plan_text(plan)))
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
