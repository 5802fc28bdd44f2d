"""The jobs' part of the engine's plan into rows."""

from __future__ import annotations

from collections.abc import Mapping

from builds.models import (
    Build,
    Consignment,
    ConsignmentJob,
    Job,
    Link,
    Person,
    Place,
    PlaceUse,
    Promise,
    Vendor,
    Way,
)
from builds.planning.upsert import replace_children, upsert
from scheduling import plan as records


def jobs(
    plan: records.Plan,
    builds: Mapping[str, Build],
    people: Mapping[str, Person],
    vendors: Mapping[str, Vendor],
) -> dict[str, Job]:
    """Write the jobs themselves."""
    rows = []
    for one in plan.jobs:
        row = _job(one)
        row.build = None if one.build is None else builds[one.build]
        row.person = None if one.person is None else people[one.person]
        row.vendor = None if one.vendor is None else vendors[one.vendor]
        row.robbed_for = None if one.robbed_for is None else builds[one.robbed_for]
        rows.append(row)
    return upsert(Job, rows)


def jobs_parts(
    plan: records.Plan, jobs: Mapping[str, Job], places: Mapping[str, Place]
) -> None:
    """Write the jobs' links, places and promises."""
    replace_children(
        Link,
        (
            Link(
                job=jobs[one.id],
                before=jobs[link.job],
                kind=link.kind,
                wait_days=link.wait_days,
                wait_hours=link.wait_hours,
            )
            for one in plan.jobs
            for link in one.after
        ),
    )
    replace_children(
        PlaceUse,
        (
            PlaceUse(job=jobs[one.id], place=places[use.place], uses=use.uses)
            for one in plan.jobs
            for use in one.places
        ),
    )
    replace_children(
        Promise,
        (
            Promise(
                job=jobs[one.id],
                date=said.date,
                given=said.given,
                by=said.by,
                said=said.said,
                asked=said.asked,
                speaker=said.speaker,
            )
            for one in plan.jobs
            for said in one.promises
        ),
    )


def ways(
    plan: records.Plan, jobs: Mapping[str, Job], vendors: Mapping[str, Vendor]
) -> None:
    """Write the ways that jobs may be done in."""
    replace_children(
        Way,
        (
            Way(
                job=jobs[one.id],
                key=way.id,
                name=way.name,
                kind=way.kind,
                vendor=None if way.vendor is None else vendors[way.vendor],
                trade=way.trade,
                trade_level=way.trade_level,
                low=way.estimate.low if way.estimate else None,
                likely=way.estimate.likely if way.estimate else None,
                high=way.estimate.high if way.estimate else None,
                fixed=way.estimate.fixed if way.estimate else False,
                cost=way.cost,
                spoil_chance=way.spoil_chance,
            )
            for one in plan.jobs
            for way in one.ways
        ),
    )


def consignments(
    plan: records.Plan, vendors: Mapping[str, Vendor], jobs: Mapping[str, Job]
) -> dict[str, Consignment]:
    """Write the consignments with their jobs."""
    rows = upsert(
        Consignment,
        (
            Consignment(
                key=one.id,
                vendor=vendors[one.vendor],
                name=one.name,
                leaves=one.leaves,
                left=one.left,
                signed=one.signed,
            )
            for one in plan.consignments
        ),
    )
    replace_children(
        ConsignmentJob,
        (
            ConsignmentJob(consignment=rows[one.id], job=jobs[key])
            for one in plan.consignments
            for key in one.jobs
        ),
    )
    return rows


def _job(one: records.Job) -> Job:
    return Job(
        key=one.id,
        title=one.title,
        kind=one.kind,
        low=one.estimate.low if one.estimate else None,
        likely=one.estimate.likely if one.estimate else None,
        high=one.estimate.high if one.estimate else None,
        fixed=one.estimate.fixed if one.estimate else False,
        trade=one.trade,
        trade_level=one.trade_level,
        people=one.people,
        level=one.level,
        phase=one.phase,
        area=one.area,
        slot=one.slot,
        commitment=one.commitment,
        unbroken=one.unbroken,
        safety=one.safety,
        state=one.state,
        started=one.started,
        finished=one.finished,
        remaining=one.remaining,
        not_before=one.not_before,
        needed_by=one.needed_by,
        sent=one.sent,
        promised=one.promised,
        pieces=one.pieces,
        pieces_back=one.pieces_back,
        pieces_noted=one.pieces_noted,
        holder=one.holder,
        rework_chance=one.rework_chance,
        found=one.found or "",
        snag=one.snag,
        note=one.note,
        process=one.process,
        colour=one.colour,
        alloy=one.alloy,
        kilos=one.kilos,
        visible=one.visible,
        could_start=one.could_start,
        acknowledged=one.acknowledged,
        back_order=one.back_order,
        pieces_wrong=one.pieces_wrong,
        value=one.value,
        way=one.way,
    )
