"""Files to be read: made with other libraries than the one that reads them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from typing import Any

from openpyxl import Workbook

from sheets.reading import read_tables
from sheets.table import Table

SHEET = "xl__worksheets__sheet1.xml"


def only(data: bytes, name: str = "jobs.xlsx") -> Table:
    """Read a file that holds one sheet."""
    (table,) = read_tables(data, name)
    return table


def xlsx(*rows: tuple[Any, ...], change: Callable[[Any], None] | None = None) -> bytes:
    book = Workbook()
    sheet = book.active
    sheet.title = "Jobs"
    for row in rows:
        sheet.append(row)
    if change:
        change(sheet)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def repacked(data: bytes, **parts: bytes | Callable[[bytes], bytes]) -> bytes:
    """Give a packed file with parts exchanged, added, or passed through something."""
    out = io.BytesIO()
    wanted = {name.replace("__", "/"): part for name, part in parts.items()}
    with (
        zipfile.ZipFile(io.BytesIO(data)) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            part = wanted.pop(name, None) or old.read(name)
            new.writestr(name, part(old.read(name)) if callable(part) else part)
        for name, part in wanted.items():
            assert isinstance(part, bytes)
            new.writestr(name, part)
    return out.getvalue()


def ods(*rows: tuple[str, ...]) -> bytes:
    """Write the smallest OpenDocument sheet (OASIS ODF 1.3, parts 2 and 3)."""
    cells = "".join(
        "<table:table-row>"
        + "".join(
            '<table:table-cell office:value-type="string">'
            f"<text:p>{cell}</text:p></table:table-cell>"
            if cell
            else "<table:table-cell/>"
            for cell in row
        )
        + "</table:table-row>"
        for row in rows
    )
    names = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "table", "text")
    )
    body = (
        f'<?xml version="1.0"?><office:document-content {names}><office:body>'
        f'<office:spreadsheet><table:table table:name="Jobs">{cells}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        '<?xml version="1.0"?><manifest:manifest xmlns:manifest='
        '"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
        "</manifest:manifest>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("mimetype", kind)
        packed.writestr("content.xml", body, zipfile.ZIP_DEFLATED)
        packed.writestr("META-INF/manifest.xml", manifest)
    return out.getvalue()


def no_end() -> bytes:
    """Give an OpenDocument sheet one cell of which stands for a thousand million."""

    def repeat(part: bytes) -> bytes:
        return part.replace(
            b"<table:table-row>",
            b'<table:table-row table:number-rows-repeated="1048576">',
        ).replace(
            b"<table:table-cell office",
            b'<table:table-cell table:number-columns-repeated="16384" office',
        )

    return repacked(ods(("Job",), ("Sand",)), **{"content.xml": repeat})
