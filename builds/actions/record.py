"""Write what changed, check it and leave word of it, in the same transaction."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any, TypeVar

from django.core.exceptions import FieldDoesNotExist, ValidationError
from django.db import models
from django.db.models import F, Max
from django.utils.text import slugify

from builds.actions.breaks import check_what_it_broke
from builds.actions.errors import Conflict, Refused
from builds.actions.late import pressed_at
from builds.models import (
    Build,
    Event,
    Job,
    Person,
    Place,
    Show,
    User,
    Vendor,
    WorkCalendar,
    Workshop,
)
from builds.models.keyed import Keyed
from builds.models.tied import untied
from builds.tasks.replan import request_replan

LONGEST = 4000  # as in the plan file

Thing = TypeVar("Thing", bound=Keyed)
Versioned = Job | Build | Person | Vendor | Place | Show | WorkCalendar | Workshop


def record(
    *,
    by: User | None,
    verb: str,
    subject: object,
    build: Build | None = None,
    job: Job | None = None,
    before: Mapping[str, Any] | None = None,
    after: Mapping[str, Any] | None = None,
    words: str = "",
    typed: bool = True,
    planned: bool = True,
    touched: Collection[Job] | None = None,
    everywhere: bool = False,
    undoes: Event | None = None,
) -> None:
    """Check what this can have broken, write the one Event, ask for a forecast.

    `typed` says that someone filled in facts of the plan, which may be anything;
    `planned` that the plan has changed at all; `touched` which jobs have, if not
    only `job`. An act on no job may be felt by any of them, so all are checked; with
    `everywhere` their text was filled in, too.
    """
    check_sane(words)
    if planned:
        here = touched if touched is not None else [job] if job else []
        check_what_it_broke(here, typed=typed, everywhere=everywhere)
    note(
        by=by,
        verb=verb,
        subject=subject,
        build=build,
        job=job,
        before=before,
        after=after,
        words=words,
        undoes=undoes,
    )
    if planned:
        request_replan()


def note(
    *,
    by: User | None,
    verb: str,
    subject: object,
    build: Build | None = None,
    job: Job | None = None,
    before: Mapping[str, Any] | None = None,
    after: Mapping[str, Any] | None = None,
    words: str = "",
    undoes: Event | None = None,
) -> Event:
    """Write an Event and nothing else: for the rows of an act that is recorded."""
    return Event.objects.create(
        by=by,
        verb=verb,
        subject=str(subject),
        build=build or (job.build if job else None),
        job=job,
        before=plain(before or {}),
        after=plain(after or {}),
        words=words,
        undoes=undoes,
        pressed_at=pressed_at(),
    )


def change(
    row: Versioned, fields: Mapping[str, Any], *, version: int | None = None
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Set fields if the row is still at `version`; give what was and what is.

    The check and the write are one statement, so of two people who saved the same
    version one is told.
    """
    seen = version if version is not None else row.version
    before = {name: getattr(row, name) for name in fields}
    set_checked(row, fields)
    swap(row, fields, seen)
    return _differences(before, fields)


def swap(row: Versioned, fields: Mapping[str, Any], seen: int) -> None:
    """Write fields in one statement if the row is still at `seen`, or Conflict."""
    rows = type(row)._default_manager.filter(pk=row.pk, version=seen)
    if not rows.update(**fields, version=F("version") + 1):
        theirs = type(row)._default_manager.get(pk=row.pk)
        raise Conflict(
            yours=plain(fields),
            theirs=plain({name: getattr(theirs, name) for name in fields}),
            version=theirs.version,
        )
    row.version = seen + 1


def change_and_record(
    job: Job,
    fields: Mapping[str, Any],
    *,
    by: User,
    verb: str,
    words: str = "",
    told: Mapping[str, Any] | None = None,
) -> Job:
    """Set what somebody did to a job, and write it down with what they told."""
    before, after = change(job, fields)
    record(
        by=by,
        verb=verb,
        subject=job,
        job=job,
        before=before,
        after=after | dict(told or {}),
        words=words,
        typed=False,
    )
    return job


def update(
    row: models.Model, fields: Mapping[str, Any]
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Set fields of a row nobody edits side by side; give what was and what is."""
    before = {name: getattr(row, name) for name in fields}
    set_checked(row, fields)
    row.save(update_fields=list(fields))
    return _differences(before, fields)


def set_checked(row: models.Model, fields: Mapping[str, Any]) -> None:
    """Set fields, or refuse those that do not exist or break a rule of the row."""
    for name, value in fields.items():
        _known(row, name)
        check_sane(value)
        setattr(row, name, value)
    try:
        row.full_clean(exclude=untied(row, fields))
    except ValidationError as error:
        raise Refused(" ".join(error.messages)) from error


def check_sane(value: object) -> None:
    """Refuse numbers and words that no plan file may hold."""
    if isinstance(value, int | float) and not 0 <= value < math.inf:
        raise Refused(f"{value:g} is too little: write nought or more.")
    if isinstance(value, str) and (len(value) > LONGEST or "\0" in value):
        raise Refused(f"Write no more than {LONGEST} letters, and only letters.")


def _known(row: models.Model, name: str) -> None:
    try:
        field = row._meta.get_field(name)
    except FieldDoesNotExist as error:
        raise Refused(f"There is nothing called “{name}” to change.") from error
    if not field.concrete or name in ("id", "key", "position", "version"):
        raise Refused(f"“{name}” cannot be changed.")


def create(model: type[Thing], words: str, fields: Mapping[str, Any]) -> Thing:
    """Make a row at the end of its list, with a key made from `words`."""
    row = model(key=new_key(model, words), position=next_position(model))
    set_checked(row, fields)
    row.save()
    return row


def next_position(model: type[Keyed]) -> int:
    """Give the place behind the last of a list."""
    last: int | None = model._default_manager.aggregate(last=Max("position"))["last"]
    return 0 if last is None else last + 1


def new_key(model: type[Keyed], words: str) -> str:
    """Make a key nobody has, from a name."""
    stem = slugify(words)[:80] or model.__name__.lower()
    taken = set(
        model._default_manager.filter(key__startswith=stem).values_list(
            "key", flat=True
        )
    )
    numbered = (f"{stem}-{number}" for number in range(2, len(taken) + 3))
    return next(key for key in [stem, *numbered] if key not in taken)


def plain(fields: Mapping[str, Any]) -> dict[str, Any]:
    """Turn values into what JSON holds: rows by their key, dates by their text."""
    return {name: _plain(value) for name, value in fields.items()}


def _plain(value: Any) -> Any:
    if isinstance(value, Keyed):
        return value.key
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return value


def _differences(
    before: Mapping[str, Any], after: Mapping[str, Any]
) -> tuple[dict[str, Any], dict[str, Any]]:
    changed: Iterable[str] = [name for name in after if after[name] != before[name]]
    return {name: before[name] for name in changed}, {
        name: after[name] for name in changed
    }
