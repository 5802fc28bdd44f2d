"""Who works here, what they may do and when they are away."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from django.db import transaction

from builds.actions.errors import Conflict, Refused
from builds.actions.record import change, create, record, swap
from builds.models import DaysAway, Person, PersonTrade, User


@transaction.atomic
def create_person(*, by: User, name: str, **fields: Any) -> Person:
    """Take someone on."""
    person = create(Person, name, {"name": name, **fields})
    after = {"name": name, **fields}
    record(by=by, verb="created person", subject=person, after=after)
    return person


@transaction.atomic
def change_person(
    *, by: User, person: Person, fields: Mapping[str, Any], version: int | None = None
) -> Person:
    """Change a person's facts."""
    return _change(by, person, "changed person", fields, version)


@transaction.atomic
def leave_out_person(*, by: User, person: Person) -> Person:
    """Plan nothing for this person, for now."""
    return _change(by, person, "left out person", {"left_out": True})


@transaction.atomic
def restore_person(*, by: User, person: Person) -> Person:
    """Plan work for this person again."""
    return _change(by, person, "restored person", {"left_out": False})


@transaction.atomic
def set_trades(
    *,
    by: User,
    person: Person,
    levels: Mapping[str, int],
    paces: Mapping[str, float] | None = None,
    version: int | None = None,
) -> Person:
    """Say what someone may do (3 signs off, 2 alone, 1 with someone) and how fast."""
    paces = paces or {}
    rows = [
        PersonTrade(
            person=person, trade=trade, level=levels.get(trade), pace=paces.get(trade)
        )
        for trade in dict.fromkeys([*levels, *paces])
    ]
    after = _said(rows)
    try:
        swap(person, {}, person.version if version is None else version)
    except Conflict as conflict:
        theirs = _said(person.trades.all())
        raise Conflict(yours=after, theirs=theirs, version=conflict.version) from None
    before = _said(person.trades.all())
    person.trades.all().delete()
    PersonTrade.objects.bulk_create(rows)
    record(by=by, verb="set trades", subject=person, before=before, after=after)
    return person


@transaction.atomic
def add_days_away(*, by: User, person: Person, first: date, last: date) -> DaysAway:
    """Say that someone is away, both days included."""
    if last < first:
        raise Refused("The last day away is before the first.")
    away = DaysAway.objects.create(person=person, first=first, last=last)
    after = {"first": first, "last": last}
    record(by=by, verb="added days away", subject=person, after=after)
    return away


@transaction.atomic
def remove_days_away(*, by: User, away: DaysAway) -> Person:
    """Say that someone is here after all."""
    before = {"first": away.first, "last": away.last}
    person = away.person
    away.delete()
    record(by=by, verb="removed days away", subject=person, before=before)
    return person


def _said(trades: Iterable[PersonTrade]) -> dict[str, Any]:
    return {one.trade: [one.level, one.pace] for one in trades}


def _change(
    by: User,
    person: Person,
    verb: str,
    fields: Mapping[str, Any],
    version: int | None = None,
) -> Person:
    before, after = change(person, fields, version=version)
    record(by=by, verb=verb, subject=person, before=before, after=after)
    return person
