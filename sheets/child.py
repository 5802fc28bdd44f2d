"""Read a file from standard input in a process with little memory and time.

Run as a module, with what the file is called in the first line; writes the tables as
JSON. A file made to exhaust the reader takes this process down and nothing else.
"""

from __future__ import annotations

import json
import resource
import sys
from contextlib import suppress
from pathlib import Path

from sheets.files import read_file
from sheets.table import Unreadable

MEMORY = 1 << 30
SECONDS = 20
ANSWER = 64 << 20  # the most that is handed back
NO_CORE = 0


def limit() -> None:
    """Take room and time away from this process, before anything is read."""
    for what, most in (
        (resource.RLIMIT_AS, MEMORY),
        (resource.RLIMIT_CPU, SECONDS),
        (resource.RLIMIT_FSIZE, ANSWER),
        (resource.RLIMIT_CORE, NO_CORE),
    ):
        resource.setrlimit(what, (most, most))
    with suppress(OSError):  # where the machine itself runs short, this one goes first
        Path("/proc/self/oom_score_adj").write_text("1000")


def main() -> None:
    """Answer with the tables, or with why there are none."""
    limit()
    answer: object
    try:
        name = json.loads(sys.stdin.buffer.readline())
        tables = read_file(sys.stdin.buffer.read(), name)
        answer = {"tables": [[one.name, one.rows, one.unread] for one in tables]}
    except Unreadable as error:
        answer = {"unreadable": error.words}
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    main()
