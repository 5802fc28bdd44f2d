"""What a file is, and its tables; only `child.py` calls this, with limits around it."""

from __future__ import annotations

from pathlib import PurePath

from sheets.csv_text import read_csv
from sheets.table import Table, Unreadable
from sheets.workbook import read_workbook

MOST_LETTERS = 5_000_000
EMPTY = "There is nothing in this file."
TOO_MANY = (
    "This file holds more than {0:,} letters in its cells, far more than a plan needs."
    " Leave out the columns that are not wanted."
)


def read_file(data: bytes, name: str) -> list[Table]:
    """Give the tables of a CSV, XLSX or ODS file by what is in it, not by its name."""
    if data.startswith(b"PK"):
        tables = read_workbook(data)
    else:
        tables = [read_csv(data, PurePath(name).stem or "Sheet")]
    tables = [table for table in tables if table.rows]
    if not tables:
        raise Unreadable(EMPTY)
    letters = sum(len(cell) for one in tables for row in one.rows for cell in row)
    if letters > MOST_LETTERS:
        raise Unreadable(TOO_MANY.format(MOST_LETTERS))
    return tables
