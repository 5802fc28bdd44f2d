"""The named pieces of a job: who has each, where it lies, and how it got there.

Nothing here computes. The engine plans with the counts of the job; these say which
pieces the counts are made of.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

PieceState = Literal["here", "out", "back", "rejected", "missing"]


@dataclass(frozen=True, slots=True)
class Move:
    """Where a piece went, when, and who put a name to it."""

    at: datetime
    holder: str
    place: str
    state: PieceState
    count: int = 1
    signed: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """`count` alike pieces with one holder and one place; `trail` oldest first."""

    id: str
    holder: str
    place: str
    name: str = ""
    count: int = 1
    state: PieceState = "here"
    trail: tuple[Move, ...] = ()
