"""The job table: one row per kind of job in a full build, in the plan's own units.

`jobs.csv` holds the trade's table (hours, or working days); `rows.csv` says how each
row is planned. Durations and links are common practice, no source.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

HERE = Path(__file__).parent
CALENDAR_DAYS_PER_WORKING_DAY = 7 / 5

TRADES = {
    "LEAD": "lead",
    "FAB": "fabrication",
    "PAN": "panel",
    "MEC": "mechanical",
    "ELE": "electrical",
    "FIT": "fitting",
    "PRE": "prep",
    "DET": "detail",
}
VENDORS = {
    "V-STRIP": "cobrane",
    "V-MACH": "dunnock",
    "V-ANOD": "sallowfield",
    "V-ZINC": "brindle",
    "V-CHRM": "orrelstane",
    "V-POWD": "cobrane",
    "V-GLAS": "ostry",
    "V-EXHA": "thrupp",
    "V-BADG": "tarn",
    "V-TRIM": "twell",
    "V-PAIN": "larkhollow",
    "V-ENGB": "kellwen",
    "V-ENGM": "kellwen",
    "V-GBOX": "torvane",
    "V-LOOM": "wexcote",
    "V-AIRC": "meridew",
    "V-ALIG": "meridew",
    "V-TUNE": "meridew",
    "V-INSP": "test-lane",
    "V-HAUL": "wainthorpe",
}
OTHER_KINDS = {"SUPPLIER": "order", "CUSTOMER": "decision", "STAND": "stand"}
KIND_UNITS = {
    "decision": CALENDAR_DAYS_PER_WORKING_DAY,
    "stand": 24 * 7 / 5,
}


@dataclass(frozen=True, slots=True)
class Row:
    """One row; `low`, `likely`, `high` are in the unit of its kind."""

    code: str
    title: str
    kind: str
    low: float
    likely: float
    high: float
    after: tuple[str, ...] = ()
    phase: str = ""
    area: str = "whole car"
    level: str = "complete"
    trade: str = ""
    grade: int = 2
    people: int = 1
    vendor: str = ""
    places: tuple[str, ...] = ()
    flags: frozenset[str] = frozenset()
    note: str = ""

    @property
    def in_house(self) -> bool:
        """Return whether our own people do it."""
        return self.kind in ("bench", "check")


def kind_of(who: str, said: str) -> str:
    """Return the kind of a row from who does it, unless the row says otherwise."""
    if said:
        return said
    if who in OTHER_KINDS:
        return OTHER_KINDS[who]
    return "outside" if who.startswith("V-") else "bench"


def _rows_of(name: str) -> Iterator[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as lines:
        yield from csv.DictReader(lines)


def _row(job: dict[str, str], rule: dict[str, str]) -> Row:
    who = job["who"]
    kind = kind_of(who, rule["kind"])
    unit = KIND_UNITS.get(kind, 1.0)
    return Row(
        code=job["code"],
        title=rule["title"],
        kind=kind,
        low=float(job["low"]) * unit,
        likely=float(job["likely"]) * unit,
        high=float(job["high"]) * unit,
        after=tuple(job["after"].split()),
        phase=job["phase"],
        area=rule["area"],
        level=rule["level"],
        trade=rule["trade"] or TRADES.get(who, ""),
        grade=int(rule["grade"] or 2),
        people=int(rule["people"] or 1),
        vendor=VENDORS.get(who, "") if kind == "outside" else "",
        places=tuple(rule["places"].split()),
        flags=frozenset(rule["flags"].split()),
        note=job["note"],
    )


@cache
def job_table() -> tuple[Row, ...]:
    """Return the rows of the job table in their order."""
    rules = {rule["code"]: rule for rule in _rows_of("rows.csv")}
    return tuple(_row(job, rules[job["code"]]) for job in _rows_of("jobs.csv"))
