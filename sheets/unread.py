"""What a workbook shows but does not hold: sums never worked out, faults, far cells.

Sums are not worked out here. A file saved by a spreadsheet program holds the results;
one written by another program often holds the sums alone, which read as empty.
"""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import dataclass, field
from typing import Any

from defusedxml import ElementTree
from defusedxml.common import DefusedXmlException

from sheets.table import Unreadable
from sheets.zips import DAMAGED

WHERE = re.compile("([A-Z]{1,3})([0-9]{1,7})")
KEY = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


@dataclass(slots=True)
class Extent:
    """How far a sheet's cells reach, and which of them cannot be read."""

    rows: int = 0
    columns: int = 0
    unread: list[tuple[int, int]] = field(default_factory=list)


def extents(data: bytes) -> dict[str, Extent]:
    """Give the extent of every sheet by its name."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            return {
                name: _extent(packed, path) for name, path in _sheets(packed).items()
            }
    except (ElementTree.ParseError, DefusedXmlException, KeyError) as error:
        raise Unreadable(DAMAGED) from error


def _sheets(packed: zipfile.ZipFile) -> dict[str, str]:
    book = ElementTree.fromstring(packed.read("xl/workbook.xml"))
    links = ElementTree.fromstring(packed.read("xl/_rels/workbook.xml.rels"))
    paths = {link.get("Id"): str(link.get("Target")) for link in links}
    found = {}
    for one in book.iter():
        target = paths.get(one.get(KEY, ""))
        if _kind(one) == "sheet" and target and "worksheet" in target:
            path = target.lstrip("/")
            full = path if path.startswith("xl/") else f"xl/{path}"
            found[one.get("name", "")] = full
    return found


def _extent(packed: zipfile.ZipFile, path: str) -> Extent:
    extent = Extent()
    with packed.open(path) as sheet:
        for _, one in ElementTree.iterparse(sheet, events=("end",), forbid_dtd=True):
            if _kind(one) == "c":
                _take(extent, one)
            elif _kind(one) == "row":
                one.clear()
    return extent


def _take(extent: Extent, cell: Any) -> None:
    found = WHERE.fullmatch(cell.get("r", ""))
    if found is None:
        return
    row, column = int(found[2]), _number(found[1])
    parts = {_kind(part): part.text for part in cell}
    if not parts:
        return
    extent.rows, extent.columns = max(extent.rows, row), max(extent.columns, column)
    if cell.get("t") == "e" or ("f" in parts and not parts.get("v")):
        extent.unread.append((row, column))


def _number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def _kind(one: Any) -> str:
    return str(one.tag).rsplit("}", 1)[-1]
