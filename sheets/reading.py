"""A file of somebody else's into tables of words: the way in for everything here."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from sheets.child import SECONDS
from sheets.csv_text import read_csv
from sheets.table import Table, Unreadable
from sheets.zips import check_zip

LARGEST = 5 * 1024 * 1024
ROOT = Path(__file__).resolve().parent.parent
OLD = b"\xd0\xcf\x11\xe0"  # the container of .xls and of locked workbooks
TOO_LARGE = "The file has {0:.1f} MB. The most that is taken is 5 MB."
OLD_KIND = "This is an old or a locked workbook. Save it as .xlsx without a password."
EMPTY = "There is nothing in this file."
GAVE_UP = "Reading this file took too long or too much room, so it was given up."


def read_tables(data: bytes, name: str) -> list[Table]:
    """Give the tables of a CSV, XLSX or ODS file by what is in it, not by its name.

    Raises Unreadable with a sentence for whoever sent it.
    """
    if len(data) > LARGEST:
        raise Unreadable(TOO_LARGE.format(len(data) / 1024 / 1024))
    if not data.strip():
        raise Unreadable(EMPTY)
    if data.startswith(OLD):
        raise Unreadable(OLD_KIND)
    if data.startswith(b"PK"):
        check_zip(data)
        tables = _by_child(data)
    else:
        tables = [read_csv(data, Path(name).stem or "Sheet")]
    tables = [table for table in tables if table.rows]
    if not tables:
        raise Unreadable(EMPTY)
    return tables


def _by_child(data: bytes) -> list[Table]:
    try:
        done = subprocess.run(
            [sys.executable, "-m", "sheets.child"],
            input=data,
            capture_output=True,
            timeout=SECONDS + 5,
            check=True,
            cwd=ROOT,
            env={"PATH": "/usr/bin:/bin"},  # no secret of the site's goes with it
        )
        answer = json.loads(done.stdout)
    except (subprocess.SubprocessError, ValueError) as error:
        raise Unreadable(GAVE_UP) from error
    if "unreadable" in answer:
        raise Unreadable(answer["unreadable"])
    return [
        Table(name, tuple(map(tuple, rows)), tuple(map(tuple, unread)))
        for name, rows, unread in answer["tables"]
    ]
