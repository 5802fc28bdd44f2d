"""Comma-separated values as they come from different programs."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterable, Iterator
from itertools import islice, repeat

from sheets.table import MOST_ROWS, Table, Unreadable, checked

NOT_TEXT = "This is neither a spreadsheet nor plain text."
BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
NEVER_TYPED = re.compile("[\0-\x08\x0e-\x1a\x1c-\x1f]")
COUNTED = 200_000  # rows: beyond this it does not matter how many
SEPARATORS = ";\t,"
# As written by `writing.safe`: the mark goes that kept a cell from being worked out.
MARKED = re.compile(r"'+[=+\-@\t\r]")


def read_csv(data: bytes, name: str) -> Table:
    """Read a text file with commas, semicolons or tabs; raises Unreadable."""
    text = _decoded(data)
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text))
    try:
        rows = tuple(islice(_rows(lines), COUNTED))
    except csv.Error as error:
        raise Unreadable(f"{NOT_TEXT} Line {lines.line_num} breaks off.") from error
    if len(rows) == COUNTED:
        raise Unreadable(
            f"“{name}” has {COUNTED:,} rows or more. The most that is taken at once "
            f"is {MOST_ROWS:,}."
        )
    return checked(Table(name, rows))


def unmarked(cell: str) -> str:
    """Give a cell's words without the mark that a safe file puts before them."""
    marked = cell.startswith("'") and MARKED.match(cell)
    return cell[1:].strip() if marked else cell.strip()


def _rows(lines: Iterable[list[str]]) -> Iterator[tuple[str, ...]]:
    """Give the rows; empty ones only where something follows, in case of millions."""
    empty = 0
    for row in lines:
        if not any(row):
            empty += 1
            continue
        yield from repeat((), empty)
        empty = 0
        yield tuple(map(unmarked, row))


def _decoded(data: bytes) -> str:
    for mark, encoding in BOMS:
        if data.startswith(mark):
            return _decode(data, encoding)
    even, odd = data[:4096:2].count(0), data[1:4096:2].count(0)
    if max(even, odd) > len(data[:4096]) / 8:  # UTF-16 without a mark
        return _decode(data, "utf-16-be" if even > odd else "utf-16-le")
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return _decode(data, "cp1252")
    return _decode(data, "utf-8")


def _decode(data: bytes, encoding: str) -> str:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        raise Unreadable(NOT_TEXT) from error
    if NEVER_TYPED.search(text):
        raise Unreadable(NOT_TEXT)
    return text


def _separator(text: str) -> str:
    """Give the separator that most of the first lines agree on.

    A comma stands inside words and numbers more often than a semicolon does.
    """
    lines = [line for line in text.splitlines()[:20] if line.strip()]

    def agreeing(separator: str) -> int:
        return sum(separator in line for line in lines)

    best = max(SEPARATORS, key=agreeing)
    return best if agreeing(best) else ","
