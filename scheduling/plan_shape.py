"""Whether a plan document has the shape that `plan.schema.json` lays down."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from functools import cache
from importlib.resources import files
from itertools import islice
from typing import Any

from jsonschema import Draft202012Validator, FormatChecker

from scheduling import formats
from scheduling.errors import Fault
from scheduling.plan_words import faults_of

MOST_JOBS = 20_000
MOST_ERRORS = 5_000
FORMAT_READERS: dict[str, Callable[[str], object]] = {
    "local-date": formats.read_day,
    "local-time": formats.read_moment,
    "local-date-or-time": formats.read_day_or_moment,
    "date-span": formats.read_span,
    "opening-hours": formats.read_hours,
    "holiday-calendar": formats.check_holiday_calendar,
    "time-zone": formats.check_time_zone,
}


def schema() -> dict[str, Any]:
    """Return the plan file's JSON Schema (draft 2020-12)."""
    text = files("scheduling").joinpath("plan.schema.json").read_text("utf-8")
    made: dict[str, Any] = json.loads(text)
    return made


def shape_faults(document: dict[str, Any]) -> list[Fault]:
    """Return every place at which a document breaks the schema.

    Parameters
    ----------
    document : dict
        Plain JSON values.

    Notes
    -----
    Stops counting after 5,000. A plan with more than 20,000 jobs is refused
    without looking at them.
    """
    jobs = document.get("jobs")
    if isinstance(jobs, list) and len(jobs) > MOST_JOBS:
        what = f"holds {len(jobs):,} jobs where 20,000 are allowed"
        return [Fault("jobs", what, "Take out builds that are finished.")]
    broken = list(islice(_validator().iter_errors(document), MOST_ERRORS))
    broken.sort(key=lambda error: _turn(document, error.absolute_path))
    return [fault for error in broken for fault in faults_of(error, document)]


def _turn(document: object, path: Iterable[str | int]) -> list[int]:
    """Return where in the file a path stands, to list faults from top to bottom."""
    turn: list[int] = []
    here: Any = document
    for step in path:
        turn.append(step if isinstance(step, int) else list(here).index(step))
        here = here[step]
    return turn


@cache
def _validator() -> Draft202012Validator:
    checker = FormatChecker(formats=())
    for name, read in FORMAT_READERS.items():
        checker.checks(name, raises=ValueError)(_checks(read))
    whole = schema()
    # References are written out once: looking them up for each value of a plan of
    # thousands of jobs costs more than all the checks.
    inlined = _inlined({k: v for k, v in whole.items() if k != "$defs"}, whole["$defs"])
    return Draft202012Validator(inlined, format_checker=checker)


def _checks(read: Callable[[str], object]) -> Callable[[object], bool]:
    def check(value: object) -> bool:
        if isinstance(value, str):
            read(value)
        return True

    return check


def _inlined(rule: Any, definitions: dict[str, Any]) -> Any:
    if isinstance(rule, dict):
        if "$ref" in rule:
            name = rule["$ref"].removeprefix("#/$defs/")
            return _inlined(definitions[name], definitions)
        return {key: _inlined(value, definitions) for key, value in rule.items()}
    if isinstance(rule, list):
        return [_inlined(one, definitions) for one in rule]
    return rule
