"""A file of somebody else's into tables of words: the way in for everything here.

Whatever is in it is read by a process of its own (`child.py`): so it is in a web
process and in a worker, with Redis and without.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryFile
from typing import Any

from sheets.child import SECONDS
from sheets.files import EMPTY
from sheets.table import Table, Unreadable

LARGEST = 5 * 1024 * 1024
ROOT = Path(__file__).resolve().parent.parent
OLD = b"\xd0\xcf\x11\xe0"  # the container of .xls and of locked workbooks
TOO_LARGE = "The file has {0:.1f} MB. The most that is taken is 5 MB."
OLD_KIND = "This is an old or a locked workbook. Save it as .xlsx without a password."
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
    answer = _by_child(data, name)
    if "unreadable" in answer:
        raise Unreadable(answer["unreadable"])
    return [
        Table(name, tuple(map(tuple, rows)), tuple(map(tuple, unread)))
        for name, rows, unread in answer["tables"]
    ]


def _by_child(data: bytes, name: str) -> Any:
    with TemporaryFile() as out:  # not a pipe: the system stops what writes too much
        try:
            subprocess.run(
                [sys.executable, "-m", "sheets.child"],
                input=json.dumps(name).encode() + b"\n" + data,
                stdout=out,
                stderr=subprocess.DEVNULL,
                timeout=SECONDS + 5,
                check=True,
                cwd=ROOT,
                env={"PATH": "/usr/bin:/bin"},  # no secret of the site's goes with it
            )
            out.seek(0)
            return json.load(out)
        except (subprocess.SubprocessError, ValueError) as error:
            raise Unreadable(GAVE_UP) from error
