"""Tables into CSV and XLSX that no program takes for sums to work out.

OWASP ASVS 5.0, 1.2.10: cells that begin with = + - @, a tab, a carriage return or a
NUL get an apostrophe in CSV. In XLSX every cell is typed as text instead.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

from openpyxl import Workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

RISKY = re.compile(r"'*[=+\-@\t\r\0]")
WIDEST = 40


def safe(cell: str) -> str:
    """Give a cell's words in a way that is never worked out."""
    return f"'{cell}" if RISKY.match(cell) else cell


def write_csv(rows: Iterable[Sequence[str]]) -> bytes:
    """Write one table, with the mark that tells a program that it is UTF-8."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows([safe(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def write_xlsx(tables: Iterable[tuple[str, Sequence[Sequence[str]]]]) -> bytes:
    """Write a workbook of named sheets; the first row of each is its headings."""
    book = Workbook()
    assert book.active is not None
    book.remove(book.active)
    for name, rows in tables:
        sheet = book.create_sheet(name)
        for number, row in enumerate(rows, start=1):
            for place, words in enumerate(row, start=1):
                cell = sheet.cell(number, place)
                cell.value = ILLEGAL_CHARACTERS_RE.sub("", words) or None
                if cell.value is not None:
                    cell.data_type = "s"
        for cell in sheet[1]:
            cell.font = Font(bold=True)
        sheet.freeze_panes = "A2"
        for place, width in enumerate(_widths(rows), start=1):
            sheet.column_dimensions[get_column_letter(place)].width = width
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _widths(rows: Sequence[Sequence[str]]) -> list[int]:
    columns = zip(*rows, strict=True)
    return [min(WIDEST, max(map(len, column)) + 2) for column in columns]
