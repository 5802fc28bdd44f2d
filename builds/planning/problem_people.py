"""The part of the plan that is who and where, from rows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from builds.models import (
    DaysAway,
    PastReturn,
    Person,
    PersonTrade,
    Place,
    Vendor,
    VendorClosure,
)
from builds.planning.batch_text import read_batch
from builds.planning.rows import by_owner
from scheduling import plan as records

Row = Mapping[str, Any]


class _Trade(NamedTuple):
    trade: str
    level: int | None
    pace: float | None


# Named alike in the table and in the plan.
OF_PEOPLE = ("name", "note", "left_out")
OF_PLACES = ("name", "capacity")
OF_VENDORS = (
    *("name", "minimum_charge", "reject_chance", "does", "phone", "note"),
    "left_out",
)

OF_RETURNS = ("quoted_days", "actual_days", "waited_days", "what", "back")


def people() -> tuple[records.Person, ...]:
    """Give everybody with their trades and days away."""
    trades = by_owner(
        PersonTrade.objects.values_list("person_id", "trade", "level", "pace"), _Trade
    )
    away = by_owner(
        DaysAway.objects.values_list("person_id", "first", "last"), records.Span
    )
    rows = Person.objects.values("pk", "key", "calendar__key", *OF_PEOPLE)
    return tuple(
        records.Person(
            id=row["key"],
            calendar=row["calendar__key"],
            trades={
                one.trade: one.level
                for one in trades[row["pk"]]
                if one.level is not None
            },
            pace={
                one.trade: one.pace for one in trades[row["pk"]] if one.pace is not None
            },
            away=tuple(away[row["pk"]]),
            **{name: row[name] for name in OF_PEOPLE},
        )
        for row in rows
    )


def places() -> tuple[records.Place, ...]:
    """Give every place."""
    rows = Place.objects.values("key", "calendar__key", *OF_PLACES)
    return tuple(
        records.Place(
            id=row["key"],
            calendar=row["calendar__key"],
            **{name: row[name] for name in OF_PLACES},
        )
        for row in rows
    )


def vendors() -> tuple[records.Vendor, ...]:
    """Give every vendor with their closures and past returns."""
    closed = by_owner(
        VendorClosure.objects.values_list("vendor_id", "first", "last"), records.Span
    )
    history = by_owner(
        PastReturn.objects.values_list("vendor_id", *OF_RETURNS),
        records.PastReturn,
    )
    rows = Vendor.objects.values(
        "pk", "key", "calendar__key", "slot_every", "slot_from", "batch", *OF_VENDORS
    )
    return tuple(
        records.Vendor(
            id=row["key"],
            calendar=row["calendar__key"],
            closed=tuple(closed[row["pk"]]),
            slots=_slots(row),
            batch=read_batch(row["batch"]),
            history=tuple(history[row["pk"]]),
            **{name: row[name] for name in OF_VENDORS},
        )
        for row in rows
    )


def _slots(row: Row) -> records.SlotRule | None:
    if row["slot_every"] is None or row["slot_from"] is None:
        return None
    return records.SlotRule(row["slot_every"], row["slot_from"])
