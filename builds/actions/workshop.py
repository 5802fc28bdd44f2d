"""The firm's own settings, its working weeks and its places."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from builds.actions.record import create, record, set_checked, update
from builds.models import Place, User, WorkCalendar, Workshop


@transaction.atomic
def change_workshop(*, by: User, fields: Mapping[str, Any]) -> Workshop:
    """Change the workshop's settings."""
    shop = Workshop.current()
    before = {name: getattr(shop, name) for name in fields}
    if shop._state.adding:
        set_checked(shop, fields)
        shop.save(force_insert=True)
        after = dict(fields)
    else:
        before, after = update(shop, fields)
    record(by=by, verb="changed workshop", subject=shop, before=before, after=after)
    return shop


@transaction.atomic
def change_calendar(
    *, by: User, calendar: WorkCalendar, fields: Mapping[str, Any]
) -> WorkCalendar:
    """Change a working week, its holidays, closed and extra days."""
    before, after = update(calendar, fields)
    record(by=by, verb="changed calendar", subject=calendar, before=before, after=after)
    return calendar


@transaction.atomic
def create_place(*, by: User, name: str, **fields: Any) -> Place:
    """Add a place where work is done."""
    place = create(Place, name, {"name": name, **fields})
    after = {"name": name, **fields}
    record(by=by, verb="created place", subject=place, after=after)
    return place


@transaction.atomic
def change_place(*, by: User, place: Place, fields: Mapping[str, Any]) -> Place:
    """Change a place's facts."""
    before, after = update(place, fields)
    record(by=by, verb="changed place", subject=place, before=before, after=after)
    return place
