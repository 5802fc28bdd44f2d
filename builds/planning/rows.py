"""Rows read as plain values: a model instance for each costs ten times the query."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from typing import Any


def by_owner(
    rows: Iterable[tuple[Any, ...]], make: Callable[..., Any]
) -> dict[int, list[Any]]:
    """Give what is made of each row by the number that the row begins with."""
    found: dict[int, list[Any]] = defaultdict(list)
    for owner, *values in rows:
        found[owner].append(make(*values))
    return found
