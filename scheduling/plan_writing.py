"""From frozen records back to a plan document: only what differs from the defaults."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass, replace
from datetime import date, datetime
from functools import cache, lru_cache
from typing import Any

from scheduling.formats import day_text, hours_text, moment_text, span_text
from scheduling.plan import (
    KEPT_JOBS,
    Calendar,
    Hours,
    Job,
    Link,
    PlaceUse,
    Plan,
    Show,
    SlotRule,
    Span,
)
from scheduling.timeline import WEEKDAYS

RENAMED = {(Link, "kind"): "link", (SlotRule, "first"): "from"}


def document_of(plan: Plan) -> dict[str, Any]:
    """Return a plan as plain JSON values, ready to be read again.

    Parameters
    ----------
    plan : Plan
        Moments are written to the minute.

    Returns
    -------
    dict
        Keys in the order of the records' fields, `id` first; a key whose value is
        the default is left out. Lists keep their order.
    """
    return {"format": "workshop-plan", "version": 1, **_keys(plan)}


def text_of(plan: Plan) -> str:
    """Return what `document_of` gives as JSON on one line, its jobs last.

    Each job's text is kept under the job itself, so that after an edit one is written.
    """
    rest = json.dumps(document_of(replace(plan, jobs=())))
    return f'{rest[:-1]}, "jobs": [{", ".join(map(job_text, plan.jobs))}]}}'


@lru_cache(KEPT_JOBS)
def job_text(job: Job) -> str:
    """Return one job as JSON on one line."""
    return json.dumps(_record(job))


def _keys(record: object) -> dict[str, Any]:
    found = {}
    kind: Any = type(record)
    for name, key, unsaid in _columns(kind):
        value = getattr(record, name)
        if value != unsaid:
            found[key] = _value(value)
    return found


@cache
def _columns(kind: type) -> tuple[tuple[str, str, Any], ...]:
    """Return each field of a record: its name, its key, the value left unsaid."""
    return tuple(
        (one.name, RENAMED.get((kind, one.name), one.name), _unsaid(kind, one))
        for one in fields(kind)
    )


def _unsaid(kind: type, one: Field[Any]) -> Any:
    if kind is Show and one.name == "name":
        return ""
    if one.default_factory is not MISSING:
        return one.default_factory()
    return one.default  # MISSING where it always has to be said


def _value(value: Any) -> Any:
    """Return any value of a record as JSON holds it."""
    write = WRITERS.get(type(value))
    if write is not None:
        return write(value)
    if is_dataclass(value):
        return _record(value)
    return _group(value) if isinstance(value, Mapping) else value


def _number(value: float) -> float:
    return int(value) if value.is_integer() else value


def _group(group: Mapping[Any, Any]) -> dict[str, Any]:
    days = {name: number for number, name in enumerate(WEEKDAYS)}
    keys = sorted(group, key=lambda key: (days.get(key, len(days)), str(key)))
    return {
        day_text(key) if isinstance(key, date) else key: _value(group[key])
        for key in keys
    }


def _list(records: tuple[Any, ...]) -> Any:
    if records and isinstance(records[0], Calendar):
        return {one.id: _without_id(one) for one in records}
    return [_value(one) for one in records]


def _without_id(calendar: Calendar) -> dict[str, Any]:
    return {key: value for key, value in _keys(calendar).items() if key != "id"}


def _record(record: Any) -> Any:
    keys = _keys(record)
    # A plain link or place is its id alone.
    for kind, name in ((Link, "job"), (PlaceUse, "place")):
        if isinstance(record, kind) and list(keys) == [name]:
            return keys[name]
    return keys


def _same(value: Any) -> Any:
    return value


WRITERS: dict[type, Callable[[Any], Any]] = {
    **dict.fromkeys((str, int, bool, type(None)), _same),
    float: _number,
    tuple: _list,
    dict: _group,
    datetime: moment_text,
    date: day_text,
    Span: span_text,
    Hours: hours_text,
}
