"""One car as a network of jobs: rows of the table it needs, at its own stage."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from builds.demo.history import Done, happened
from builds.demo.table import KIND_UNITS, Row, job_table

CAR_PLACES = ("bay", "cabin")


@dataclass(frozen=True)
class Car:
    """What makes one build differ from the table.

    `scales` multiplies durations by row code or phase letter; `links` replaces what
    a row waits for; `facts` are plan-file keys of one job; `done` rows (or phases, by
    letter) are finished by the dates in `pins`, else before what followed them began.
    """

    id: str
    done: str
    last_done: date
    scales: Mapping[str, float] = field(default_factory=dict)
    dropped: str = ""
    links: Mapping[str, str] = field(default_factory=dict)
    titles: Mapping[str, str] = field(default_factory=dict)
    extras: tuple[Row, ...] = ()
    facts: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    pins: Mapping[str, date] = field(default_factory=dict)


def rows_of(car: Car) -> list[Row]:
    """Return the car's rows: scaled, re-linked, rows it does not need passed over."""
    rows = {row.code: row for row in (*job_table(), *car.extras)}
    dropped = set(car.dropped.split())
    linked = {code: tuple(links.split()) for code, links in car.links.items()}
    before = {code: linked.get(code, row.after) for code, row in rows.items()}
    return [
        replace(
            _scaled(row, car),
            title=car.titles.get(code, row.title),
            after=_kept(before[code], before, dropped),
        )
        for code, row in rows.items()
        if code not in dropped
    ]


def _kept(
    codes: tuple[str, ...], before: Mapping[str, tuple[str, ...]], dropped: set[str]
) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for code in codes:
        through = _kept(before[code], before, dropped) if code in dropped else (code,)
        found.update(dict.fromkeys(through))
    return tuple(found)


def _scaled(row: Row, car: Car) -> Row:
    by = car.scales.get(row.code, car.scales.get(row.code[0], 1.0))
    step = 0.25 if row.in_house or row.kind == "stand" else 0.5
    low, likely, high = (
        max(round(value * by / step) * step, step)
        for value in (row.low, row.likely, row.high)
    )
    return replace(row, low=low, likely=likely, high=high)


def jobs_of(car: Car) -> list[dict[str, Any]]:
    """Return the car's jobs as they stand in a plan file."""
    rows = rows_of(car)
    done = {row.code for row in rows if {row.code, row.code[0]} & {*car.done.split()}}
    begun = {code: _begun_on(facts) for code, facts in car.facts.items()}
    limits = {code: day for code, day in begun.items() if day}
    history = happened(rows, done, limits, car.pins, car.last_done)
    return [_job(row, car, history.get(row.code)) for row in rows]


def _begun_on(facts: Mapping[str, Any]) -> date | None:
    began = facts.get("sent") or facts.get("started")
    return date.fromisoformat(str(began)[:10]) if began else None


def _job(row: Row, car: Car, past: Done | None) -> dict[str, Any]:
    job: dict[str, Any] = {
        "id": f"{car.id}-{row.code.lower()}",
        "build": car.id,
        "title": row.title,
        "kind": row.kind,
        "phase": row.phase,
        "area": row.area,
        "level": row.level,
        "estimate": _estimate(row),
        "after": [f"{car.id}-{code.lower()}" for code in row.after],
    }
    job |= _who(row) | _flags(row)
    if row.places:
        job["places"] = [_place(place, car.id) for place in row.places]
    if row.note:
        job["note"] = row.note
    if past:
        job |= past.as_keys(row)
    return job | dict(car.facts.get(row.code, {}))


def _estimate(row: Row) -> dict[str, Any]:
    if "one-day" in row.flags or row.low == row.high:
        return {"likely": row.likely, "fixed": True}
    return {"low": row.low, "likely": row.likely, "high": row.high}


def _who(row: Row) -> dict[str, Any]:
    if row.vendor:
        return {"vendor": row.vendor}
    if not row.trade:
        return {}
    return {"trade": row.trade, "trade_level": row.grade, "people": row.people}


def _flags(row: Row) -> dict[str, Any]:
    keys: dict[str, Any] = {
        flag: True for flag in ("commitment", "safety", "unbroken") if flag in row.flags
    }
    return keys | ({"slot": False} if "no-slot" in row.flags else {})


def _place(word: str, build: str) -> str | dict[str, Any]:
    name, _, uses = word.partition(":")
    place = f"{build}-{name}" if name in CAR_PLACES else name
    return {"place": place, "uses": int(uses)} if uses else place


def extra(
    code: str, title: str, kind: str, days: str, after: str = "", **more: Any
) -> Row:
    """Return a row of the car's own; `days`: "low likely high" in the table's unit."""
    low, likely, high = (float(part) for part in days.split())
    unit = KIND_UNITS.get(kind, 1.0)
    flags = frozenset(str(more.pop("flags", "")).split())
    places = tuple(str(more.pop("places", "")).split())
    return Row(
        code, title, kind, low * unit, likely * unit, high * unit,
        tuple(after.split()), flags=flags, places=places, **more,
    )  # fmt: skip
