"""Dated events and the cars entered for them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from builds.actions.record import change, create, record
from builds.models import Build, Show, ShowEntry, User


@transaction.atomic
def create_show(*, by: User, name: str, move_in: datetime) -> Show:
    """Put a show in the diary; `move_in` is the workshop's wall clock."""
    fields = {"name": name, "move_in": move_in}
    show = create(Show, name, fields)
    record(by=by, verb="created show", subject=show, after=fields)
    return show


@transaction.atomic
def change_show(
    *, by: User, show: Show, fields: Mapping[str, Any], version: int | None = None
) -> Show:
    """Change a show's facts."""
    return _change(by, show, "changed show", fields, version)


@transaction.atomic
def cancel_show(*, by: User, show: Show) -> Show:
    """Plan for this show no more; its entries are kept."""
    return _change(by, show, "cancelled show", {"left_out": True})


@transaction.atomic
def restore_show(*, by: User, show: Show) -> Show:
    """Plan for this show again."""
    return _change(by, show, "restored show", {"left_out": False})


@transaction.atomic
def enter_build(
    *, by: User, show: Show, build: Build, level: str | None = None
) -> ShowEntry:
    """Enter a car at a level, or change the level; none means the top one."""
    known = ShowEntry.objects.filter(show=show, build=build).first()
    before = {"level": known.level} if known else {}
    entry, _ = ShowEntry.objects.update_or_create(
        show=show, build=build, defaults={"level": level}
    )
    record(
        by=by,
        verb="entered build",
        subject=show,
        build=build,
        before=before,
        after={"show": show.key, "level": level},
    )
    return entry


@transaction.atomic
def withdraw_build(*, by: User, entry: ShowEntry) -> Show:
    """Take a car out of a show."""
    show, build = entry.show, entry.build
    before = {"show": show.key, "level": entry.level}
    entry.delete()
    record(by=by, verb="withdrew build", subject=show, build=build, before=before)
    return show


def _change(
    by: User,
    show: Show,
    verb: str,
    fields: Mapping[str, Any],
    version: int | None = None,
) -> Show:
    before, after = change(show, fields, version=version)
    record(by=by, verb=verb, subject=show, before=before, after=after)
    return show
