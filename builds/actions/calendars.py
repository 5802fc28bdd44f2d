"""Working weeks: which days, which hours, and who keeps them.

A week goes by its name, which is also its id in the plan file.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from builds.actions.addresses import check_address
from builds.actions.errors import Conflict, Refused
from builds.actions.ready import named
from builds.actions.record import change, next_position, record, set_checked
from builds.models import Person, Place, User, Vendor, WorkCalendar


@transaction.atomic
def create_calendar(*, by: User, name: str, **fields: Any) -> WorkCalendar:
    """Add a working week; the first one takes the place of working day and night."""
    _check_free(name)
    WorkCalendar.objects.filter(implied=True).delete()
    calendar = WorkCalendar(key=name, position=next_position(WorkCalendar))
    set_checked(calendar, fields)
    calendar.save()
    after = {"name": name, **fields}
    record(by=by, verb="created calendar", subject=calendar, after=after)
    return calendar


@transaction.atomic
def change_calendar(
    *,
    by: User,
    calendar: WorkCalendar,
    fields: Mapping[str, Any],
    name: str | None = None,
    version: int | None = None,
) -> WorkCalendar:
    """Change a working week, its holidays, closed and extra days, or its name."""
    old, new = calendar.key, calendar.key if name is None else name
    try:
        before, after = change(calendar, fields, version=version)
    except Conflict as conflict:
        raise _with_names(conflict, new, old) from conflict
    if new != old:
        _check_free(new)
        calendar.key = new
        calendar.save(update_fields=["key"])
        before, after = before | {"name": old}, after | {"name": new}
    record(by=by, verb="changed calendar", subject=calendar, before=before, after=after)
    return calendar


@transaction.atomic
def make_usual(*, by: User, calendar: WorkCalendar) -> WorkCalendar:
    """Let whoever has no week of their own keep this one: it comes first."""
    rows = list(WorkCalendar.objects.select_for_update())
    before = {"usual": rows[0].key}
    rest = [one for one in rows if one.pk != calendar.pk]
    for position, row in enumerate([calendar, *rest]):
        row.position = position
        row.save(update_fields=["position"])
    after = {"usual": calendar.key}
    record(by=by, verb="chose calendar", subject=calendar, before=before, after=after)
    return calendar


@transaction.atomic
def remove_calendar(*, by: User, calendar: WorkCalendar) -> None:
    """Take away a working week that nobody keeps."""
    _check_unused(calendar)
    names = ("week", "holidays", "closed", "open", "elapsed")
    before = {"name": calendar.key} | {one: getattr(calendar, one) for one in names}
    calendar.delete()
    record(by=by, verb="removed calendar", subject=before["name"], before=before)


def _with_names(conflict: Conflict, new: str, old: str) -> Conflict:
    """Give the same with the week's two names, as its name is no field of the row."""
    if new == old:
        return conflict
    return Conflict(
        yours={"name": new, **conflict.yours},
        theirs={"name": old, **conflict.theirs},
        version=conflict.version,
    )


def _check_free(name: str) -> None:
    if WorkCalendar.objects.filter(key=name, implied=False).exists():
        raise Refused(f"There is a working week called “{name}” already.")
    check_address(WorkCalendar, name)


def _check_unused(calendar: WorkCalendar) -> None:
    if calendar == WorkCalendar.objects.first():
        raise Refused(
            f"“{calendar}” is the workshop’s usual week. Make another one usual first."
        )
    keepers = [
        row
        for model in (Person, Vendor, Place)
        for row in model._default_manager.filter(calendar=calendar)
    ]
    if keepers:
        raise Refused(
            f"“{calendar}” is the week of {named(keepers)}."
            " Give them another one first."
        )
