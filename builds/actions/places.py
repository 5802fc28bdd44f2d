"""Where work is done."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.ready import named
from builds.actions.record import change, create, record
from builds.models import Job, Place, State, User


@transaction.atomic
def create_place(*, by: User, name: str, **fields: Any) -> Place:
    """Add a place where work is done."""
    place = create(Place, name, {"name": name, **fields})
    after = {"name": name, **fields}
    record(by=by, verb="created place", subject=place, after=after)
    return place


@transaction.atomic
def change_place(
    *, by: User, place: Place, fields: Mapping[str, Any], version: int | None = None
) -> Place:
    """Change a place's facts."""
    before, after = change(place, fields, version=version)
    record(by=by, verb="changed place", subject=place, before=before, after=after)
    return place


@transaction.atomic
def remove_place(*, by: User, place: Place) -> None:
    """Take away a place that no job still to be done asks for."""
    asking = Job.objects.filter(places=place).exclude(state=State.DONE)
    if asking:
        raise Refused(
            f"“{place}” is asked for by {named(asking)}."
            " Say first that they are done elsewhere."
        )
    before = {
        "name": place.name,
        "capacity": place.capacity,
        "calendar": place.calendar,
        "uses": {one.job.key: one.uses for one in place.used_by.select_related("job")},
    }
    place.delete()
    record(by=by, verb="removed place", subject=place, before=before)
