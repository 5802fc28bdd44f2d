"""Who works here: hours, trades, days away and work in hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from builds.models import (
    DaysAway,
    Job,
    Person,
    PersonTrade,
    State,
    WorkCalendar,
    Workshop,
)

SIGNS_OFF = {1: "beside someone", 2: "works alone", 3: "signs off"}


@dataclass(frozen=True, slots=True)
class TradeLine:
    """A trade with its level in words and how fast."""

    trade: str
    level: str
    pace: str


@dataclass(frozen=True, slots=True)
class Away:
    """A stretch of days away; `gone` says that it is over."""

    pk: int
    first: date
    last: date
    gone: bool


@dataclass(frozen=True, slots=True)
class Hand:
    """One person, for the list."""

    key: str
    name: str
    hours: str
    trades: tuple[TradeLine, ...]
    away: Away | None
    under_way: int
    left_out: bool


@dataclass(frozen=True, slots=True)
class PersonPage:
    """One person with all that can be changed."""

    person: Person
    calendars: tuple[WorkCalendar, ...]
    now: datetime
    trades: tuple[PersonTrade, ...]
    known_trades: tuple[str, ...]
    away: tuple[Away, ...]


def people_rows() -> tuple[Hand, ...]:
    """Give everybody, in the workshop's order."""
    today = Workshop.current().clock().date()
    busy = Job.objects.filter(state=State.UNDER_WAY).exclude(person=None)
    counts: dict[int, int] = {}
    for pk in busy.values_list("person_id", flat=True):
        counts[pk or 0] = counts.get(pk or 0, 0) + 1
    rows = Person.objects.select_related("calendar")
    return tuple(
        _hand(row, today, counts.get(row.pk, 0))
        for row in rows.prefetch_related("trades", "away")
    )


def person_page(*, person: Person) -> PersonPage:
    """Give one person's facts, trades and days away."""
    shop = Workshop.current()
    known = PersonTrade.objects.order_by("trade").values_list("trade", flat=True)
    return PersonPage(
        person=person,
        calendars=tuple(WorkCalendar.objects.all()),
        now=shop.clock(),
        trades=tuple(person.trades.all()),
        known_trades=tuple(known.distinct()),
        away=_spans(person.away.order_by("first"), shop.clock().date()),
    )


def calendars() -> tuple[WorkCalendar, ...]:
    """Give the working weeks there are."""
    return tuple(WorkCalendar.objects.all())


def say_week(calendar: WorkCalendar | None) -> str:
    """Say a working week: `38 h 45 a week`."""
    if calendar is None:
        return "the workshop’s usual week"
    if calendar.elapsed:
        return "day and night"
    total = sum(
        (_opening(one) for openings in calendar.week.values() for one in openings),
        timedelta(),
    )
    hours, minutes = divmod(round(total.total_seconds() / 60), 60)
    return f"{hours} h {minutes:02} a week" if minutes else f"{hours} h a week"


def name_week(calendar: WorkCalendar) -> str:
    """Name a working week: `bench, 30 h a week`."""
    return f"{calendar}, {say_week(calendar)}"


def _hand(person: Person, today: date, under_way: int) -> Hand:
    away = _spans(sorted(person.away.all(), key=lambda one: one.first), today)
    return Hand(
        key=person.key,
        name=str(person),
        hours=say_week(person.calendar),
        trades=tuple(_trade(one) for one in person.trades.all()),
        away=next((one for one in away if not one.gone), None),
        under_way=under_way,
        left_out=person.left_out,
    )


def _trade(one: PersonTrade) -> TradeLine:
    pace = f"takes {one.pace:g} times as long" if one.pace not in (None, 1.0) else ""
    return TradeLine(one.trade, SIGNS_OFF.get(one.level or 0, ""), pace)


def _spans(rows: Iterable[DaysAway], today: date) -> tuple[Away, ...]:
    return tuple(Away(one.pk, one.first, one.last, one.last < today) for one in rows)


def _opening(text: str) -> timedelta:
    start, end = (
        timedelta(hours=int(one.split(":")[0]), minutes=int(one.split(":")[1]))
        for one in text.split("-")
    )
    return end - start
