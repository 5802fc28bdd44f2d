"""The plan's jobs, people and vendors as tables to be written to a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from builds.selectors.sheet_cells import (
    Known,
    job_cells,
    person_cells,
    read_known,
    vendor_cells,
)
from sheets.columns import JOBS, PEOPLE, VENDORS, Sort

Rows = list[list[str]]


def sheet_tables() -> list[tuple[str, Rows]]:
    """Give all three tables, each by the name of its sheet."""
    known = read_known()
    return [(sort.heading, _table(sort, known)) for sort in (JOBS, PEOPLE, VENDORS)]


def sheet_table(sort: Sort) -> Rows:
    """Give one table, headings first."""
    return _table(sort, read_known())


def _table(sort: Sort, known: Known) -> Rows:
    cells: dict[str, Iterable[Mapping[str, str]]] = {
        "jobs": (job_cells(job, known) for job in known.jobs.rows.values()),
        "people": map(person_cells, known.people.rows.values()),
        "vendors": map(vendor_cells, known.vendors.rows.values()),
    }
    return table_of(sort, cells[sort.name])


def table_of(sort: Sort, rows: Iterable[Mapping[str, str]]) -> Rows:
    """Give rows of cells in the order of the columns, headings first."""
    headings = [one.heading for one in sort.columns]
    return [headings, *([row[one.name] for one in sort.columns] for row in rows)]
