"""What taking a sheet in would do: tried out on the plan, and taken back again."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256

from django.db import transaction

from builds.actions.errors import PlanRefused, Refused
from builds.actions.sheet_rows import RowAsked, SheetAsked
from builds.actions.sheets import take_in_sheet
from builds.forms.sheet_plan import read_asked, sheets_of
from builds.forms.sheet_reader import Problem, Reader, Said
from builds.models import Build, Person, Place, SheetFile, User, Vendor

SHOWN = 200
WHERE = re.compile(r'(jobs|people|vendors)\[\d+\] "([^"]*)"')
CHANGED = "The plan has changed since you looked at this. Look again, then take it in."
WRONG = "Nothing is taken in while something in the file is wrong."
ADDED = {Build: "cars", Place: "places", Person: "people", Vendor: "vendors"}


@dataclass(frozen=True, slots=True)
class Change:
    """A row of the file that adds or changes something."""

    sheet: str
    row: int
    sort: str
    name: str
    new: bool
    cells: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """What a file would do, what is wrong with it, and a mark of both."""

    said: tuple[Said | None, ...]
    problems: tuple[Problem, ...]
    changes: tuple[Change, ...]
    added: tuple[tuple[str, str], ...]  # what, name: only named in the file
    mark: str

    @property
    def new(self) -> int:
        """Count the rows that are added."""
        return sum(one.new for one in self.changes)

    @property
    def changed(self) -> int:
        """Count the rows that are changed."""
        return len(self.changes) - self.new


class Wrong(Refused):
    """Reading has found something wrong."""


def preview(*, by: User, file: SheetFile) -> Preview:
    """Try a file out; the plan stays as it is."""
    said = sheets_of(file)
    reader = Reader.empty()
    problems: list[Problem] = []
    with transaction.atomic():
        try:
            reader = read_asked(said)
            if not reader.problems:
                take_in_sheet(by=by, file=file, read=lambda: reader.asked)
        except PlanRefused as refused:
            problems = [_problem(one, reader) for one in refused.faults]
        except Refused as refused:
            problems = [Problem("", 0, "", "", refused.words)]
        transaction.set_rollback(True)
    changes = tuple(_change(row, reader) for row in reader.asked.rows())
    added = tuple((ADDED[type(row)], str(row)) for row in reader.asked.added())
    mark = sha256(repr((changes, added)).encode()).hexdigest()
    found = (*reader.problems, *problems)
    return Preview(tuple(said), found, changes, added, mark)


def take_in(*, by: User, file: SheetFile, mark: str) -> Preview:
    """Take a file in, if it still does what was looked at; raises Refused."""
    looked = preview(by=by, file=file)
    if looked.problems:
        raise Wrong(WRONG)
    if looked.mark != mark:
        raise Refused(CHANGED)

    def read() -> SheetAsked:
        return read_asked(list(looked.said)).asked

    take_in_sheet(by=by, file=file, read=read)
    return looked


def _change(asked: RowAsked, reader: Reader) -> Change:
    sort = {Person: "people", Vendor: "vendors"}.get(type(asked.row), "jobs")
    sheet, number = reader.stands[(sort, asked.row.key)]
    name = asked.fields.get("title") or asked.fields.get("name") or str(asked.row)
    return Change(sheet, number, sort, name, asked.new, tuple(asked.said))


def _problem(fault: Mapping[str, str], reader: Reader) -> Problem:
    found = WHERE.match(fault["where"])
    sheet, row = reader.stands.get((found[1], found[2]) if found else ("", ""), ("", 0))
    what = fault["what"][:1].upper() + fault["what"][1:].rstrip(".")
    reason = f"{what}. {fault['fix']}" if row else f"{fault['where']}: {what}."
    return Problem(sheet, row, "", "", reason)
