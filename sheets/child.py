"""Read a workbook from standard input in a process with little memory and time.

Run as a module; writes the sheets as JSON. A file made to exhaust the reader takes
this process down and nothing else.
"""

from __future__ import annotations

import json
import resource
import sys

from sheets.table import Unreadable
from sheets.workbook import read_workbook

MEMORY = 1 << 30
SECONDS = 20


def main() -> None:
    """Answer with the sheets, or with why there are none."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    answer: object
    try:
        tables = read_workbook(sys.stdin.buffer.read())
        answer = {"tables": [[one.name, one.rows, one.unread] for one in tables]}
    except Unreadable as error:
        answer = {"unreadable": error.words}
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    main()
