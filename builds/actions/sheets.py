"""A spreadsheet into the plan: all of it or nothing, each row with its own Event."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import timedelta
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from builds.actions.addresses import check_every_address
from builds.actions.errors import Refused
from builds.actions.record import (
    check_sane,
    next_position,
    note,
    record,
    swap,
)
from builds.actions.sheet_rows import LinkAsked, RowAsked, SheetAsked
from builds.models import (
    Build,
    DaysAway,
    Event,
    Job,
    Link,
    Person,
    PersonTrade,
    Place,
    PlaceUse,
    SheetFile,
    User,
    Vendor,
    VendorClosure,
    Workshop,
)
from builds.models.keyed import Keyed

KEPT = timedelta(days=7)
TAKEN = "This file is in the plan already."
WORDS = {Job: "job", Person: "person", Vendor: "vendor", Build: "build"}


@transaction.atomic
def hand_in_sheet(*, by: User, name: str, tables: list[Any]) -> SheetFile:
    """Keep a file's words until they are taken into the plan; old ones go."""
    SheetFile.objects.filter(at__lt=timezone.now() - KEPT).delete()
    file = SheetFile.objects.create(by=by, name=name[:200], tables=tables)
    record(by=by, verb="handed in sheet", subject=file, planned=False)
    return file


def say_sheet(*, file: SheetFile, said: dict[str, Any]) -> SheetFile:
    """Keep what somebody said that its sheets and columns hold."""
    if file.taken_at is not None:
        raise Refused(TAKEN)
    file.said = said
    file.save(update_fields=["said"])
    return file


@transaction.atomic
def take_in_sheet(
    *, by: User, file: SheetFile, read: Callable[[], SheetAsked]
) -> SheetAsked:
    """Write what a file asks for; what `read` gives is read under the same lock."""
    Workshop.objects.select_for_update().get_or_create(pk=1)
    file = SheetFile.objects.select_for_update().get(pk=file.pk)
    if file.taken_at is not None:
        raise Refused(TAKEN)
    asked = read()
    words = f"from {file.name}"
    try:
        _add_rows(by, asked.added(), words)
        for rows in (asked.people, asked.vendors, asked.jobs):
            _write(by, rows, words)
        for row in asked.rows():
            _hang_on(by, row, words)
    except IntegrityError as error:
        raise Refused("A row of this file breaks a rule of the plan.") from error
    check_every_address()
    file.taken_at = timezone.now()
    file.save(update_fields=["taken_at"])
    new = sum(row.new for row in asked.rows())
    after = {
        "added": new + len(asked.added()),
        "changed": len(asked.rows()) - new,
    }
    record(by=by, verb="took in sheet", subject=file, after=after, everywhere=True)
    return asked


def _add_rows(by: User, rows: Iterable[Keyed], words: str) -> None:
    for row in rows:
        row.position = next_position(type(row))
        row.save(force_insert=True)
        build = row if isinstance(row, Build) else None
        verb = f"created {_sort(row)}"
        note(by=by, verb=verb, subject=row, build=build, words=words)


def _write(by: User, rows: list[RowAsked], words: str) -> None:
    fresh = [one for one in rows if one.new]
    for asked in rows:
        for value in asked.fields.values():
            check_sane(value)
    if fresh:
        model = type(fresh[0].row)
        first = next_position(model)
        for position, asked in enumerate(fresh, start=first):
            asked.row.position = position
            for name, value in asked.fields.items():
                setattr(asked.row, name, value)
        model._default_manager.bulk_create([asked.row for asked in fresh])
    for asked in rows:
        before, after = ({}, asked.fields) if asked.new else _change(asked)
        if asked.new or after:
            done = "created" if asked.new else "changed"
            _note(by, asked.row, f"{done} {_sort(asked.row)}", before, after, words)


def _change(asked: RowAsked) -> tuple[dict[str, Any], dict[str, Any]]:
    before = {name: getattr(asked.row, name) for name in asked.fields}
    for name, value in asked.fields.items():
        setattr(asked.row, name, value)
    row = asked.row
    if isinstance(row, Job | Person | Vendor):
        swap(row, asked.fields, row.version)
    return before, asked.fields


def _hang_on(by: User, asked: RowAsked, words: str) -> None:
    row = asked.row
    if isinstance(row, Job):
        if asked.links is not None:
            _link(by, row, asked.links, words, new=asked.new)
        if asked.places is not None:
            _place(by, row, asked.places, words, new=asked.new)
    if isinstance(row, Person):
        _hang_on_person(by, row, asked, words)
    if isinstance(row, Vendor) and asked.spans is not None:
        row.closed.all().delete()
        VendorClosure.objects.bulk_create(
            VendorClosure(vendor=row, first=a, last=b) for a, b in asked.spans
        )
        _note(by, row, "set closures", {}, {"days": asked.spans}, words)


def _hang_on_person(by: User, row: Person, asked: RowAsked, words: str) -> None:
    if asked.trades is not None:
        before = {one.trade: [one.level, one.pace] for one in row.trades.all()}
        row.trades.all().delete()
        PersonTrade.objects.bulk_create(
            PersonTrade(person=row, trade=trade, level=level, pace=pace)
            for trade, level, pace in asked.trades
        )
        after = {trade: [level, pace] for trade, level, pace in asked.trades}
        _note(by, row, "set trades", before, after, words)
    if asked.spans is not None:
        row.away.all().delete()
        DaysAway.objects.bulk_create(
            DaysAway(person=row, first=a, last=b) for a, b in asked.spans
        )
        _note(by, row, "set days away", {}, {"days": asked.spans}, words)


def _link(by: User, job: Job, links: list[LinkAsked], words: str, *, new: bool) -> None:
    before = ""
    if not new:
        before = "; ".join(f"{one.kind} {one.before.key}" for one in _links(job))
        Link.objects.filter(job=job).delete()
    Link.objects.bulk_create(
        Link(
            job=job,
            before=one.before,
            kind=one.kind,
            wait_days=one.wait_days,
            wait_hours=one.wait_hours,
        )
        for one in links
    )
    after = "; ".join(f"{one.kind} {one.before.key}" for one in links)
    facts = ({"waits_for": before}, {"waits_for": after})
    _note(by, job, "set links", *facts, words)


def _links(job: Job) -> Iterable[Link]:
    return Link.objects.filter(job=job).select_related("before")


def _place(
    by: User, job: Job, places: list[tuple[Place, int]], words: str, *, new: bool
) -> None:
    before = {}
    if not new:
        uses = job.place_uses.select_related("place")
        before = {use.place.key: use.uses for use in uses}
        PlaceUse.objects.filter(job=job).delete()
    PlaceUse.objects.bulk_create(
        PlaceUse(job=job, place=place, uses=uses) for place, uses in places
    )
    after = {place.key: uses for place, uses in places}
    _note(by, job, "moved job", {"places": before}, {"places": after}, words)


def _note(
    by: User, row: Keyed, verb: str, before: Any, after: Any, words: str
) -> Event:
    job = row if isinstance(row, Job) else None
    return note(
        by=by,
        verb=verb,
        subject=row,
        job=job,
        before=before,
        after=after,
        words=words,
    )


def _sort(row: Keyed) -> str:
    return "place" if isinstance(row, Place) else WORDS[type(row)]
