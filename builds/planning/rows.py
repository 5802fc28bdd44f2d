"""Rows read as plain values: a model instance for each costs ten times the query."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable
from typing import Any, TypeVar

from django.db.models import Model, QuerySet

Row = TypeVar("Row", bound=Model)


def by_owner(
    rows: Iterable[tuple[Any, ...]], make: Callable[..., Any]
) -> dict[int, list[Any]]:
    """Give what is made of each row by the number that the row begins with."""
    found: dict[int, list[Any]] = defaultdict(list)
    for owner, *values in rows:
        found[owner].append(make(*values))
    return found


def of_jobs(
    rows: QuerySet[Row], only: Collection[int] | None, job: str = "job_id"
) -> QuerySet[Row]:
    """Give those of the rows that belong to some jobs by number; to all if None."""
    return rows if only is None else rows.filter(**{f"{job}__in": only})
