"""From a plan document of the right shape to frozen records."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict
from typing import Any, TypeVar

from scheduling import formats, pieces, plan
from scheduling.estimates import USUAL_FACTORS
from scheduling.plan import Plan

Document = Mapping[str, Any]
Reader = Callable[[Any], Any]
Record = TypeVar("Record")

COUNTS = ("rank", "capacity", "people", "trade_level", "uses", "count")
PIECES = ("pieces", "pieces_back", "pieces_noted", "pieces_wrong")
DAYS = (
    *("needed_by", "sent", "promised", "date", "given"),
    *("back", "could_start", "acknowledged"),
)
NUMBERS = (
    *("low", "likely", "high", "remaining", "wait_days", "wait_hours"),
    *("quoted_days", "actual_days", "minimum_charge"),
    *("reject_chance", "rework_chance", "spoil_chance"),
    *("waited_days", "kilos", "value", "cost"),
)
PLAIN_READERS: dict[str, Reader] = {
    # JSON writes 4 and 4.0 alike; a record holds one kind of number
    **dict.fromkeys((*COUNTS, *PIECES), int),
    **dict.fromkeys(NUMBERS, float),
    **dict.fromkeys(DAYS, formats.read_day),
}


def plan_from(document: Document) -> Plan:
    """Return the records of a document that fits the schema.

    Parameters
    ----------
    document : mapping
        Without a ``now`` the present local time counts, rounded up to the
        quarter-hour.
    """
    timezone = document.get("timezone", "UTC")
    given = {key: document[key] for key in ("reading",) if key in document}
    given |= {key: int(document[key]) for key in ("seed", "samples") if key in document}
    if "factors" in document:
        unsaid = asdict(USUAL_FACTORS[document.get("reading", "one-in-ten")])
        given["factors"] = _factors({**unsaid, **document["factors"]})
    if "levels" in document:
        given["levels"] = tuple(document["levels"])
    now = document.get("now")
    return Plan(
        now=formats.read_moment(now) if now else formats.this_quarter(timezone),
        timezone=timezone,
        calendars=tuple(
            _calendar(name, one) for name, one in document.get("calendars", {}).items()
        ),
        people=_each(document.get("people", ()), _person),
        places=_each(document.get("places", ()), _place),
        vendors=_each(document.get("vendors", ()), _vendor),
        builds=_each(document.get("builds", ()), _build),
        shows=_each(document.get("shows", ()), _show),
        jobs=_each(document.get("jobs", ()), _job),
        consignments=_each(document.get("consignments", ()), _consignment),
        **given,
    )


def _each(documents: Iterable[Any], read: Reader) -> tuple[Any, ...]:
    return tuple(read(one) for one in documents)


def _all(read: Reader) -> Reader:
    """Return a reader of a list."""
    return lambda documents: _each(documents, read)


def _record(make: type[Record], document: Document, **readers: Reader) -> Record:
    """Return a record: each key through its reader, null left as it is."""
    readers = PLAIN_READERS | readers
    return make(
        **{
            key: value if value is None or key not in readers else readers[key](value)
            for key, value in document.items()
        }
    )


def _renamed(document: Document, old: str, new: str) -> Document:
    return {new if key == old else key: value for key, value in document.items()}


_spans = _all(formats.read_span)
_hours = _all(formats.read_hours)


def _week(document: Document) -> dict[str, Any]:
    return {day: _hours(hours) for day, hours in document.items()}


def _open(document: Document) -> dict[Any, Any]:
    return {formats.read_day(day): _hours(hours) for day, hours in document.items()}


def _calendar(name: str, document: Document) -> plan.Calendar:
    return _record(
        plan.Calendar, {"id": name, **document}, week=_week, closed=_spans, open=_open
    )


def _levels(document: Document) -> dict[str, int]:
    return {trade: int(level) for trade, level in document.items()}


def _paces(document: Document) -> dict[str, float]:
    return {trade: float(pace) for trade, pace in document.items()}


def _factors(document: Document) -> plan.Factors:
    return plan.Factors(**{name: float(value) for name, value in document.items()})


def _person(document: Document) -> plan.Person:
    return _record(plan.Person, document, trades=_levels, pace=_paces, away=_spans)


def _place(document: Document) -> plan.Place:
    return _record(plan.Place, document)


def _slots(document: Document) -> plan.SlotRule:
    first = formats.read_day(document["from"])
    return plan.SlotRule(int(document["every_working_days"]), first)


def _past_return(document: Document) -> plan.PastReturn:
    return _record(plan.PastReturn, document)


def _colour_days(document: Document) -> dict[str, tuple[str, ...]]:
    return {colour: tuple(days) for colour, days in document.items()}


def _batch(document: Document) -> plan.BatchRule:
    return _record(plan.BatchRule, document, same=tuple, days=_colour_days)


def _vendor(document: Document) -> plan.Vendor:
    return _record(
        plan.Vendor,
        document,
        closed=_spans,
        slots=_slots,
        batch=_batch,
        history=_all(_past_return),
    )


def _build(document: Document) -> plan.Build:
    return _record(plan.Build, document)


def _entry(document: Document) -> plan.Entry:
    return _record(plan.Entry, document)


def _show(document: Document) -> plan.Show:
    return _record(
        plan.Show,
        {"name": "", **document},
        move_in=formats.read_moment,
        entries=_all(_entry),
    )


def _estimate(document: Document) -> plan.Estimate:
    return _record(plan.Estimate, document)


def _link(document: str | Document) -> plan.Link:
    if isinstance(document, str):
        return plan.Link(document)
    return _record(plan.Link, _renamed(document, "link", "kind"))


def _place_use(document: str | Document) -> plan.PlaceUse:
    if isinstance(document, str):
        return plan.PlaceUse(document)
    return _record(plan.PlaceUse, document)


def _promise(document: Document) -> plan.Promise:
    return _record(plan.Promise, document)


def _way(document: Document) -> plan.Way:
    return _record(plan.Way, document, estimate=_estimate)


def _move(document: Document) -> pieces.Move:
    return _record(pieces.Move, document, at=formats.read_moment)


def _piece(document: Document) -> pieces.Piece:
    return _record(pieces.Piece, document, trail=_all(_move))


def _job(document: Document) -> plan.Job:
    return _record(
        plan.Job,
        document,
        estimate=_estimate,
        after=_all(_link),
        places=_all(_place_use),
        started=formats.read_moment,
        finished=formats.read_moment,
        not_before=formats.read_day_or_moment,
        promises=_all(_promise),
        ways=_all(_way),
        piece_list=_all(_piece),
    )


def _consignment(document: Document) -> plan.Consignment:
    return _record(
        plan.Consignment,
        document,
        jobs=tuple,
        leaves=formats.read_day_or_moment,
        left=formats.read_moment,
    )
