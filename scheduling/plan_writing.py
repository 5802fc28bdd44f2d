"""From frozen records back to a plan document: only what differs from the defaults."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date, datetime
from typing import Any

from scheduling.formats import day_text, hours_text, moment_text, span_text
from scheduling.plan import Calendar, Hours, Link, PlaceUse, Plan, Show, SlotRule, Span
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


def _keys(record: Any) -> dict[str, Any]:
    kind = type(record)
    return {
        RENAMED.get((kind, one.name), one.name): _value(getattr(record, one.name))
        for one in fields(record)
        if not _unsaid(kind, one, getattr(record, one.name))
    }


def _unsaid(kind: type, one: Field[Any], value: object) -> bool:
    if kind is Show and one.name == "name":
        return value == ""
    if one.default_factory is not MISSING:
        return bool(value == one.default_factory())
    return one.default is not MISSING and bool(value == one.default)


def _value(value: Any) -> Any:
    """Return any value of a record as JSON holds it."""
    if isinstance(value, datetime):
        return moment_text(value)
    if isinstance(value, date):
        return day_text(value)
    if isinstance(value, float):
        return int(value) if value.is_integer() else value
    if isinstance(value, Mapping):
        return _group(value)
    if isinstance(value, tuple):
        return _list(value)
    return _record(value) if is_dataclass(value) else value


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
    if isinstance(record, Span):
        return span_text(record)
    if isinstance(record, Hours):
        return hours_text(record)
    keys = _keys(record)
    # A plain link or place is its id alone.
    for kind, name in ((Link, "job"), (PlaceUse, "place")):
        if isinstance(record, kind) and list(keys) == [name]:
            return keys[name]
    return keys
