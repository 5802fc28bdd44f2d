"""How much a packed file would unpack to, before anything reads it.

A workbook is a zip. Its own list of contents may lie about sizes, so each part is
unpacked once here, into nothing, and stopped where it grows too large.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib

from sheets.table import Unreadable

MOST_ENTRIES = 200
MOST_UNPACKED = 50 * 1024 * 1024
MOST_RATIO = 100
SMALL = 64 * 1024  # below this a high ratio is only a short text of blanks
STEP = 64 * 1024
HEADER = struct.Struct("<26xHH")

TOO_MUCH = "This file unpacks to far more than a sheet needs, so it is not opened."
LOCKED = "This file is locked with a password. Save it without one and try again."
DAMAGED = "This file is damaged or not a spreadsheet. Save it again as .xlsx or .csv."
MACROS = "This workbook carries macros. Save it as a plain .xlsx and try again."


def check_zip(data: bytes) -> list[str]:
    """Give the names of what is packed; raises Unreadable for what is not safe."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            entries = packed.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError) as error:
        raise Unreadable(DAMAGED) from error
    _check_list(entries)
    total = 0
    for entry in entries:
        total += _unpacked(data, entry, MOST_UNPACKED - total)
    names = [entry.filename for entry in entries]
    if any(name.endswith("vbaProject.bin") for name in names):
        raise Unreadable(MACROS)
    return names


def _check_list(entries: list[zipfile.ZipInfo]) -> None:
    if len(entries) > MOST_ENTRIES:
        raise Unreadable(
            f"This file holds {len(entries):,} parts; a workbook needs no more than "
            f"{MOST_ENTRIES}."
        )
    if any(entry.flag_bits & 1 for entry in entries):
        raise Unreadable(LOCKED)
    for entry in entries:
        _check_size(entry.file_size, entry.compress_size)
    if sum(entry.file_size for entry in entries) > MOST_UNPACKED:
        raise Unreadable(TOO_MUCH)


def _check_size(unpacked: int, packed: int) -> None:
    if unpacked > SMALL and unpacked > MOST_RATIO * packed:
        raise Unreadable(TOO_MUCH)


def _unpacked(data: bytes, entry: zipfile.ZipInfo, left: int) -> int:
    """Give what one part really unpacks to, whatever the list of contents says."""
    packed = _body(data, entry)
    if entry.compress_type == zipfile.ZIP_STORED:
        size = len(packed)
    elif entry.compress_type == zipfile.ZIP_DEFLATED:
        size = _inflated(packed, left)
    else:
        raise Unreadable(DAMAGED)
    if size > left:
        raise Unreadable(TOO_MUCH)
    _check_size(size, len(packed))
    return size


def _body(data: bytes, entry: zipfile.ZipInfo) -> bytes:
    start = entry.header_offset
    header = data[start : start + 30]
    if len(header) < 30 or header[:4] != b"PK\x03\x04":
        raise Unreadable(DAMAGED)
    name, extra = HEADER.unpack(header)
    begin = start + 30 + name + extra
    return data[begin : begin + entry.compress_size]


def _inflated(packed: bytes, left: int) -> int:
    inflate, size, rest = zlib.decompressobj(-zlib.MAX_WBITS), 0, packed
    try:
        while not inflate.eof and size <= left:
            got = len(inflate.decompress(rest, STEP))
            rest = inflate.unconsumed_tail
            size += got
            if not got and not rest:
                break
    except zlib.error as error:
        raise Unreadable(DAMAGED) from error
    return size
