"""The records in which compiled loops read a network and its order of precedence."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int32]

PERSON = "person:"
AFTER, WITH, BY = 0, 1, 2
AT_READY, AT_SLOT, UNBROKEN = 0, 1, 2
NOTHING, PROMISED, DAYS, HOURS = 0, 1, 2, 3
SKIP, BOOK, PLACE = 0, 1, 2
ARC_KIND = {"after": AFTER, "with": WITH, "by": BY}


NODE = np.dtype(
    [
        ("release", np.float64),
        ("usual", np.float64),
        *(
            (name, np.int32)
            for name in (
                *("clock", "begins", "lead", "lead_only", "slot_row"),
                *("arc_first", "arc_last", "work_first", "work_last"),
                *("choice_first", "choice_last", "hold_first", "hold_last"),
                *("group_first", "group_last"),
                *("slot_first", "slot_last", "taker_first", "taker_last"),
                *("user_first", "user_last"),
            )
        ),
    ],
    align=True,
)
ARC = np.dtype(
    [
        ("before", np.int32),
        ("kind", np.int32),
        ("wait", np.float64),
        ("days", np.float64),
    ],
    align=True,
)
WORK = np.dtype([("kind", np.int32), ("clock", np.int32)], align=True)
CHOICE = np.dtype([("pace", np.float64), ("person", np.int32)], align=True)
HOLD = np.dtype([("person", np.int32)], align=True)
USE = np.dtype([(name, np.int32) for name in ("node", "mine", "theirs")], align=True)
GROUP = np.dtype([("first", np.int32), ("last", np.int32)], align=True)


class NodeArrays(NamedTuple):
    """Nodes in records; `x_first` and `x_last` bound a node's part of another array.

    `clock` is a row of the `ClockArrays`, as are `shop` and each person's `own`.
    `lead` is the person whose hours set the pace in the plan, or -1; `lead_only`: and
    nothing and nobody else does. A `choice` is a person who could be that, with what
    the length is then multiplied by; `usual` is the length to choose by. In `lists`
    lie a node's slot days and its `taker`s (nodes that take a slot of the same vendor
    first).

    A `use` is a node that may hold the same person or place unit first: it does where
    `theirs` is the choice made for it, and the node itself where `mine` is its own
    (-1: in any case). Of these are a node's `user`s and, in groups by name, those
    whose stay in a place or with a second person it has to keep clear of.
    """

    order: Ints
    node: NDArray[Any]
    arc: NDArray[Any]
    work: NDArray[Any]
    choice: NDArray[Any]
    hold: NDArray[Any]
    use: NDArray[Any]
    group: NDArray[Any]
    own: Ints
    lists: Ints
    people: int
    most_blocks: int
    shop: int
