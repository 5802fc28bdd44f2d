"""XLSX and ODS workbooks; only `child.py` calls this, with limits around it."""

from __future__ import annotations

import io

import python_calamine

from sheets.cells import to_text
from sheets.table import MOST_COLUMNS, MOST_ROWS, Table, Unreadable, checked
from sheets.unread import Extent, extents
from sheets.zips import DAMAGED, check_zip

MOST_SHEETS = 20
ODS = "mimetype"
XLSX = "xl/workbook.xml"
OTHER = "Only .xlsx, .ods and .csv are taken. Save the sheet as one of them."


def read_workbook(data: bytes) -> list[Table]:
    """Give every visible sheet with something in it; raises Unreadable."""
    names = check_zip(data)
    if XLSX not in names and ODS not in names:
        raise Unreadable(OTHER)
    reach = extents(data) if XLSX in names else {}
    for name, extent in reach.items():
        _check_reach(name, extent)
    try:
        return _tables(data, reach)
    except python_calamine.CalamineError as error:
        raise Unreadable(DAMAGED) from error


def _check_reach(name: str, extent: Extent) -> None:
    if extent.rows > MOST_ROWS + 1 or extent.columns > MOST_COLUMNS:
        raise Unreadable(
            f"“{name}” reaches to row {extent.rows:,}, column {extent.columns:,}. The "
            f"most that is taken is {MOST_ROWS:,} rows and {MOST_COLUMNS} columns."
        )


def _tables(data: bytes, reach: dict[str, Extent]) -> list[Table]:
    book = python_calamine.load_workbook(io.BytesIO(data))
    shown = [
        one.name
        for one in book.sheets_metadata
        if one.typ == python_calamine.SheetTypeEnum.WorkSheet
        and one.visible == python_calamine.SheetVisibleEnum.Visible
    ]
    if len(shown) > MOST_SHEETS:
        raise Unreadable(f"No more than {MOST_SHEETS} sheets are taken at once.")
    tables = [_table(book, name, reach.get(name, Extent())) for name in shown]
    return [table for table in tables if table.rows]


def _table(book: python_calamine.CalamineWorkbook, name: str, extent: Extent) -> Table:
    sheet = book.get_sheet_by_name(name)
    # Left-out empty rows would give every problem a wrong row number.
    values = sheet.to_python(skip_empty_area=False, nrows=MOST_ROWS + 2)
    rows = [[to_text(value) for value in row] for row in values]
    for (top, left), (bottom, _) in sheet.merged_cell_ranges or ():
        for number in range(top + 1, min(bottom + 1, len(rows))):
            if left < len(rows[number]):
                rows[number][left] = rows[top][left]
    return checked(Table(name, tuple(map(tuple, rows)), tuple(extent.unread)))
