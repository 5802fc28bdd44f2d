"""A square code to scan: an address as one path of little squares."""

from __future__ import annotations

from dataclasses import dataclass

import segno

QUIET = 4  # modules of clear paper around it (ISO/IEC 18004)


@dataclass(frozen=True, slots=True)
class Square:
    """A code to draw: side in modules with the quiet zone, and the dark ones."""

    side: int
    path: str


def square_code(address: str) -> Square:
    """Give the code of an address; a quarter of it may be rubbed off (level Q)."""
    rows = segno.make(address, error="q", micro=False).matrix
    path = "".join(
        f"M{x + QUIET} {y + QUIET}h1v1h-1z"
        for y, row in enumerate(rows)
        for x, dark in enumerate(row)
        if dark
    )
    return Square(len(rows) + 2 * QUIET, path)
