"""L3: how many queries a page takes, on a large workshop and on a small one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.builds.load.site import filled, manage

MOST = 20
COUNT = """
import json
from django.db import connection
from django.test import Client
facts = json.loads({facts!r})
said, found = [], {{}}
def note(execute, sql, params, many, context):
    said.append(sql)
    return execute(sql, params, many, context)
for role, name, path in facts["pages"]:
    client = Client(HTTP_X_FORWARDED_PROTO="https", HTTP_HOST="127.0.0.1")
    client.cookies["__Host-session"] = facts["sessions"][role][0]
    said.clear()
    with connection.execute_wrapper(note):
        assert client.get(path, secure=True).status_code == 200, path
    found[name] = len(said)
print("found", json.dumps(found))
"""


def query_lines(room: Path, facts: dict[str, Any]) -> list[str]:
    """Give the lines of the table; `facts` is of the large workshop."""
    large = _count(facts)
    with filled(room, f"sqlite:///{room}/small.sqlite3", 3, 12) as few:
        small = _count(few)
    return [
        f"L3 {name:16} {count:3} queries, {small[name]:3} on three cars of twelve jobs"
        f" (wanted {MOST} at most, and no more for more rows)"
        for name, count in large.items()
    ]


def _count(facts: dict[str, Any]) -> dict[str, int]:
    job, car = facts["jobs"][0], facts["cars"][0]
    pages = [
        ("technician", "/bench/", "/bench/"),
        ("technician", "/bench/job/", f"/bench/{job}/"),
        ("lead", "/morning/", "/morning/"),
        ("lead", "/cars/car/", f"/cars/{car}/"),
        ("lead", "/jobs/job/", f"/jobs/{job}/"),
        ("customer", "/my-car/", "/my-car/"),
    ]
    told = json.dumps({"pages": pages, "sessions": facts["sessions"]})
    found = manage("shell", "-v0", "-c", COUNT.format(facts=told))
    counted: dict[str, int] = json.loads(found.rpartition("found ")[2])
    return counted
