"""Rows of a sheet, one at a time: cells by column, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, TypeVar

from builds.actions.sheet_rows import SheetAsked
from builds.forms.record import RecordForm
from builds.models.keyed import Keyed
from builds.selectors.sheet_cells import Known
from builds.selectors.sheet_names import Names
from sheets.columns import Sort
from sheets.table import Table

Made = TypeVar("Made")
Thing = TypeVar("Thing", bound=Keyed)
UNREAD = (
    "The file does not hold what stands here: a sum that was never worked out, or a"
    " fault. Open it in a spreadsheet program, save it and try again."
)


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with one cell, or with a whole row (`column` is empty)."""

    sheet: str
    row: int
    column: str
    value: str
    reason: str


@dataclass(frozen=True, slots=True)
class Said:
    """What somebody said that a sheet holds: its sort, headings' row and columns."""

    table: Table
    sort: Sort
    heading: int
    columns: Mapping[int, str]
    car: str = ""


@dataclass(slots=True)
class Row:
    """One row: its number in the sheet and its cells by the names of the columns."""

    number: int
    cells: dict[str, str]


@dataclass(slots=True)
class Reader:
    """What is known, what is asked for so far, and what is wrong so far."""

    known: Known
    today: date
    asked: SheetAsked = field(default_factory=SheetAsked)
    problems: list[Problem] = field(default_factory=list)
    # Where each row of the plan stands in the file, by sort and key.
    stands: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)

    @classmethod
    def empty(cls) -> Reader:
        """Give one that knows nothing."""
        none: tuple[Any, ...] = ()
        names = (Names(none), Names(none), Names(none), Names(none), Names(none))
        return cls(Known(*names), date.min)

    def rows(self, said: Said) -> Iterator[Row]:
        """Give the rows below the headings that have something in them."""
        unread = set(said.table.unread)
        for number, cells in enumerate(said.table.rows, start=1):
            if number <= said.heading or not any(cells):
                continue
            row = Row(number, {name: cells[at] for at, name in said.columns.items()})
            for at, name in said.columns.items():
                if (number, at + 1) in unread:
                    self.wrong(said, row, name, UNREAD)
            if any(row.cells.values()):
                yield row

    def wrong(self, said: Said, row: Row, name: str, reason: str) -> None:
        """Note what is wrong with a cell of a row."""
        known = {one.name for one in said.sort.columns}
        heading = said.sort.heading_of(name) if name in known else ""
        value = row.cells.get(name, "")
        self.problems.append(
            Problem(said.table.name, row.number, heading, value, reason)
        )

    def read(
        self, said: Said, row: Row, name: str, read: Callable[[str], Made]
    ) -> Made | None:
        """Read one cell, or note why it cannot be read."""
        try:
            return read(row.cells.get(name, ""))
        except (ValueError, OverflowError) as error:
            self.wrong(said, row, name, str(error))
        return None

    def form_errors(self, said: Said, row: Row, form: RecordForm) -> None:
        """Note what a form has against a row."""
        for name, errors in form.errors.items():
            for words in errors:
                self.wrong(said, row, name, str(words))

    def place(self, said: Said, row: Row, key: str) -> bool:
        """Note where a row of the plan stands in the file; say no if twice."""
        at = (said.sort.name, key)
        if at in self.stands:
            sheet, number = self.stands[at]
            words = f"This is the same as row {number} of “{sheet}”. Leave one out."
            self.wrong(said, row, "id", words)
            return False
        self.stands[at] = (said.table.name, row.number)
        return True


def named_or_added(
    names: Names[Thing],
    model: type[Thing],
    added: list[Thing],
    words: str,
) -> Thing | None:
    """Give the row that a cell names, added if nobody has heard of it."""
    if not words:
        return None
    found = names.find(words)
    if found is None:
        found = names.add(model(key=names.new_key(words), name=words))
        added.append(found)
    return found


def cells_said(
    said: Said, row: Row, old: Mapping[str, str]
) -> list[tuple[str, str, str]]:
    """Give the heading, the old and the new words of each cell that differs."""
    return [
        (said.sort.heading_of(name), old.get(name, ""), cell)
        for name, cell in row.cells.items()
        if name != "id" and cell != old.get(name, "")
    ]


def differences(row: Any, fields: Mapping[str, Any]) -> dict[str, Any]:
    """Give the fields that are not yet so."""
    return {name: new for name, new in fields.items() if getattr(row, name) != new}
