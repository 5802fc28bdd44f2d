"""The jobs' part of rows into the engine's plan."""

from __future__ import annotations

from collections.abc import Collection
from functools import lru_cache
from typing import Any

import scheduling
from builds.models import (
    Consignment,
    ConsignmentJob,
    Job,
    Link,
    PlaceUse,
    Promise,
    Way,
)
from builds.planning.problem_pieces import pieces
from builds.planning.rows import by_owner, of_jobs
from scheduling import plan as records
from scheduling.pieces import Piece

Row = tuple[Any, ...]

# Named alike in the table and in the plan.
ALIKE = (
    *("title", "kind", "trade", "trade_level", "people", "level", "phase", "area"),
    *("slot", "commitment", "unbroken", "safety", "state", "started", "finished"),
    *("remaining", "not_before", "needed_by", "sent", "promised"),
    *("pieces", "pieces_back", "pieces_noted", "holder", "rework_chance"),
    *("snag", "note", "process", "colour", "alloy", "kilos", "visible"),
    *("could_start", "acknowledged", "back_order", "pieces_wrong", "value", "way"),
)
ESTIMATE = ("likely", "low", "high", "fixed")
OTHERS = ("build__key", "person__key", "vendor__key", "robbed_for__key")
COLUMNS = ("key", "found", *OTHERS, *ESTIMATE, *ALIKE)
OF_PROMISES = ("date", "given", "by", "said", "asked", "speaker")
OF_WAYS = ("key", "name", "kind", "vendor__key", "trade", "trade_level")


def jobs(
    *, trails: bool, only: Collection[int] | None = None
) -> tuple[records.Job, ...]:
    """Give every job with all that hangs on it, in the plan's order.

    With `only`, those jobs alone, by their numbers.
    """
    links = of_jobs(Link.objects.all(), only).values_list(
        "job_id", "before__key", "kind", "wait_days", "wait_hours"
    )
    uses = of_jobs(PlaceUse.objects.all(), only).values_list(
        "job_id", "place__key", "uses"
    )
    said = of_jobs(Promise.objects.all(), only).values_list("job_id", *OF_PROMISES)
    hung = (
        by_owner(links, _row),
        by_owner(uses, _row),
        by_owner(said, _row),
        pieces(trails=trails, only=only),
        _ways(only),
    )
    rows = of_jobs(Job.objects.all(), only, "pk").values_list("pk", *COLUMNS)
    return tuple(
        _job(row[1:], *[tuple(found.get(row[0], ())) for found in hung]) for row in rows
    )


def _row(*values: Any) -> Row:
    return values


@lru_cache(maxsize=scheduling.MOST_JOBS)
def _job(
    row: Row,
    after: tuple[Row, ...],
    places: tuple[Row, ...],
    promises: tuple[Row, ...],
    piece_list: tuple[Piece, ...],
    ways: tuple[records.Way, ...],
) -> records.Job:
    """Give the job of a row; all but a few are as they were when last asked for."""
    key, found, build, person, vendor, robbed_for, *values = row
    estimate, alike = values[: len(ESTIMATE)], values[len(ESTIMATE) :]
    return records.Job(
        id=key,
        build=build,
        person=person,
        vendor=vendor,
        estimate=None if estimate[0] is None else records.Estimate(*estimate),
        after=tuple(records.Link(*one) for one in after),
        places=tuple(records.PlaceUse(*one) for one in places),
        promises=tuple(records.Promise(*one) for one in promises),
        piece_list=piece_list,
        found=found or None,
        robbed_for=robbed_for,
        ways=ways,
        **dict(zip(ALIKE, alike, strict=True)),
    )


def _ways(only: Collection[int] | None) -> dict[int, list[records.Way]]:
    """Give the ways of each job by its number."""
    rows = of_jobs(Way.objects.all(), only).values_list(
        "job_id", *OF_WAYS, *ESTIMATE, "cost", "spoil_chance"
    )
    return by_owner(rows, _way)


def _way(*values: Any) -> records.Way:
    facts = dict(zip(("id", "name", "kind", "vendor", "trade"), values, strict=False))
    level, told, (cost, spoil_chance) = values[5], values[6:10], values[10:]
    return records.Way(
        **facts,
        trade_level=level,
        estimate=None if told[0] is None else records.Estimate(*told),
        cost=cost,
        spoil_chance=spoil_chance,
    )


def consignments(
    only: Collection[int] | None = None,
) -> tuple[records.Consignment, ...]:
    """Give every consignment with its jobs in order, or only some by number."""
    carried = of_jobs(ConsignmentJob.objects.all(), only, "consignment_id")
    loads = by_owner(carried.values_list("consignment_id", "job__key"), str)
    rows = of_jobs(Consignment.objects.all(), only, "pk").values_list(
        "pk", "key", "vendor__key", "leaves", "name", "left", "signed"
    )
    return tuple(
        records.Consignment(key, vendor, tuple(loads[pk]), leaves, name, left, signed)
        for pk, key, vendor, leaves, name, left, signed in rows
    )
