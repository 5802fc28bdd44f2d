"""One table of a file, as words; and why a file cannot be read."""

from __future__ import annotations

from dataclasses import dataclass, field

MOST_ROWS = 5000
MOST_COLUMNS = 200


class Unreadable(Exception):
    """A file is not taken; `words` says why, in whole sentences."""

    def __init__(self, words: str) -> None:
        self.words = words
        super().__init__(words)


@dataclass(frozen=True, slots=True)
class Table:
    """A sheet: its rows as they are numbered there, the first being row 1.

    `unread` are cells (row, column) that show something which the file does not
    hold: a sum that was never worked out, or a fault such as #REF!.
    """

    name: str
    rows: tuple[tuple[str, ...], ...]
    unread: tuple[tuple[int, int], ...] = field(default=())


def checked(table: Table) -> Table:
    """Leave out empty rows and columns at the ends; refuse what is far too much."""
    rows = list(table.rows)
    while rows and not any(rows[-1]):
        rows.pop()
    used = max(map(_used, rows), default=0)
    if len(rows) > MOST_ROWS + 1:
        raise Unreadable(
            f"“{table.name}” has {len(rows):,} rows. The most that is taken at once "
            f"is {MOST_ROWS:,}: take it in by parts."
        )
    if used > MOST_COLUMNS:
        raise Unreadable(
            f"“{table.name}” has {used:,} columns. The most that is taken is "
            f"{MOST_COLUMNS}: leave out those that are not needed."
        )
    even = (row[:used] + ("",) * (used - len(row)) for row in rows)
    return Table(table.name, tuple(even), table.unread)


def _used(row: tuple[str, ...]) -> int:
    """Give how many cells there are up to the last that is not empty."""
    return next((at for at in range(len(row), 0, -1) if row[at - 1]), 0)
