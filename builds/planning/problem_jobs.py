"""The jobs' part of rows into the engine's plan."""

from __future__ import annotations

from typing import cast

from django.db.models import Prefetch

from builds.models import (
    Consignment,
    ConsignmentJob,
    Job,
    Link,
    PlaceUse,
    Promise,
)
from scheduling import plan as records


def jobs() -> tuple[records.Job, ...]:
    """Give every job with its links, places and promises, in the plan's order."""
    links = Link.objects.select_related("before").only(
        "job_id", "kind", "wait_days", "wait_hours", "before__key"
    )
    uses = PlaceUse.objects.select_related("place").only("job_id", "uses", "place__key")
    rows = Job.objects.select_related("build", "person", "vendor").prefetch_related(
        Prefetch("links", links), Prefetch("place_uses", uses), "promises"
    )
    return tuple(_job(row) for row in rows)


def consignments() -> tuple[records.Consignment, ...]:
    """Give every consignment with its jobs in order."""
    loads = ConsignmentJob.objects.select_related("job").only(
        "consignment_id", "job__key"
    )
    rows = Consignment.objects.select_related("vendor").prefetch_related(
        Prefetch("loads", loads)
    )
    return tuple(
        records.Consignment(
            id=row.key,
            vendor=row.vendor.key,
            jobs=tuple(load.job.key for load in row.loads.all()),
            leaves=row.leaves,
        )
        for row in rows
    )


def _job(row: Job) -> records.Job:
    return records.Job(
        id=row.key,
        build=row.build.key if row.build else None,
        title=row.title,
        kind=cast(records.Kind, row.kind),
        estimate=_estimate(row),
        after=tuple(_link(one) for one in row.links.all()),
        trade=row.trade,
        trade_level=row.trade_level,
        people=row.people,
        person=row.person.key if row.person else None,
        level=row.level,
        phase=row.phase,
        area=row.area,
        places=tuple(_use(one) for one in row.place_uses.all()),
        vendor=row.vendor.key if row.vendor else None,
        slot=row.slot,
        commitment=row.commitment,
        unbroken=row.unbroken,
        safety=row.safety,
        state=cast(records.State, row.state),
        started=row.started,
        finished=row.finished,
        remaining=row.remaining,
        not_before=row.not_before,
        needed_by=row.needed_by,
        sent=row.sent,
        promised=row.promised,
        promises=tuple(_promise(one) for one in row.promises.all()),
        pieces=row.pieces,
        pieces_back=row.pieces_back,
        pieces_noted=row.pieces_noted,
        holder=row.holder,
        rework_chance=row.rework_chance,
        found=cast(records.Answered, row.found) if row.found else None,
        snag=row.snag,
        note=row.note,
    )


def _estimate(row: Job) -> records.Estimate | None:
    if row.likely is None:
        return None
    return records.Estimate(row.likely, row.low, row.high, row.fixed)


def _link(row: Link) -> records.Link:
    return records.Link(
        job=row.before.key,
        kind=cast(records.LinkKind, row.kind),
        wait_days=row.wait_days,
        wait_hours=row.wait_hours,
    )


def _use(row: PlaceUse) -> records.PlaceUse:
    return records.PlaceUse(row.place.key, row.uses)


def _promise(row: Promise) -> records.Promise:
    return records.Promise(date=row.date, given=row.given, by=row.by, said=row.said)
