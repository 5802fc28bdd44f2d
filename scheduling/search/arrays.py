"""The records that compiled code reads: tables with named columns.

Lists of lists are kept as one long table and where each part begins: what belongs to
row n is `things[thing_from of row n : thing_from of row n + 1]`; one empty row closes
the table. Moments are quarters.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Ints: TypeAlias = NDArray[np.int64]
Floats: TypeAlias = NDArray[np.float64]
Short: TypeAlias = NDArray[np.int32]
Table: TypeAlias = Any  # numpy.recarray: a row's columns are read as attributes

AFTER, WITH, BY = 0, 1, 2  # kinds of links
PROMISED, DAYS, QUARTERS = 0, 1, 2  # what sets a work's finish
AT_ONCE, IN_SLOT, BY_HANDS = 0, 1, 2  # how a node finds its time


class Hours(NamedTuple):
    """Every clock's tables on one tape; `clock` says where each part begins."""

    end: int
    clock: Table  # ..._from at_len week_len runs_len week_days written_days
    tape: Short


class Problem(NamedTuple):
    """One planning problem: `task` has one row per node of the network."""

    nodes: int
    shop: int
    now: int
    dated: int
    task: Table  # begun how unbroken release waits lead_* by_hands vendor *_from
    arc: Table  # before kind wait days
    after: Ints
    work: Table  # kind clock length due
    team: Table  # clock length member_from
    member: Ints
    use: Table  # place units
    capacity: Ints
    slot_from: Ints
    slot_day: Ints
    wish: Table  # move_in weight end_from; the first `dated` have a move-in
    end: Ints
    old: Table  # start team
    hours: Hours


class Placed(NamedTuple):
    """A plan being made: one entry per node; `turn` is the order of placing."""

    start: Floats
    finish: Floats
    team: Ints
    turn: Ints
    short: Ints


class Booked(NamedTuple):
    """Who and what is taken: intervals in order of start, one row per resource."""

    person_start: Floats
    person_finish: Floats
    person_count: Ints
    place_start: Floats
    place_finish: Floats
    place_units: Ints
    place_count: Ints
    slot_gone: Ints
    left: Ints
    ready: Ints


def table(columns: Mapping[str, Sequence[float]], rows: int) -> Table:
    """Return a table of `rows` rows and an empty one, whole numbers where possible.

    Parameters
    ----------
    columns : mapping of name to values
        A column named ``..._from`` has one value more than there are rows. Names
        ending in an underscore hold fractions.
    """
    kinds = [
        (name.rstrip("_"), np.float64 if name.endswith("_") else np.int64)
        for name in columns
    ]
    made = np.zeros(rows + 1, dtype=kinds).view(np.recarray)
    for name, values in columns.items():
        made[name.rstrip("_")][: len(values)] = values
    return made


def begins(lengths: Sequence[int]) -> list[int]:
    """Return where each of some stretches begins, and where the last one ends."""
    return [0, *np.cumsum(lengths, dtype=np.int64).tolist()]
