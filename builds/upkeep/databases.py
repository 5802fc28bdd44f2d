"""The database as a file and back, each with the tool made for it."""

from __future__ import annotations

import os
import sqlite3
import subprocess
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.db import connection, connections, transaction

from builds.upkeep.locked import CopyError

FILES = {"sqlite": "database.sqlite3", "postgresql": "database.pgdump"}
ROWS = "rows.json"
# Made anew by every database, or worth nothing in another.
LEFT_OUT = ("contenttypes", "auth.permission", "sessions.session")
HERE = "default"


def counts(tables: Iterable[str], cursor: Any) -> dict[str, int]:
    """Give how many rows each table has."""
    found = {}
    for table in sorted(tables):
        name = connection.ops.quote_name(table)
        # The name is one of our own tables, no visitor's words.
        cursor.execute(f"select count(*) from {name}")  # nosec B608
        found[table] = cursor.fetchone()[0]
    return found


def dump(folder: Path, *, as_rows: bool) -> dict[str, int]:
    """Write the database as of one moment; give how many rows it had then.

    `as_rows` also writes what another make of database can read; the tables must be
    those of this version.
    """
    path = folder / FILES[connection.vendor]
    rows = folder / ROWS if as_rows else None
    if connection.vendor == "sqlite":
        return _dump_sqlite(path, rows)
    return _dump_postgres(path, rows)


def _dump_sqlite(path: Path, rows: Path | None) -> dict[str, int]:
    tables = connection.introspection.table_names()
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(path)])
    with closing(sqlite3.connect(path)) as copy:
        check_sqlite(copy)
        found = counts(tables, copy.cursor())
    if rows:
        with _read_from(path):
            _dump_rows(rows)
    return found


@contextmanager
def _read_from(path: Path) -> Iterator[None]:
    """Let the one connection that everybody uses read the copy meanwhile."""
    ours = connections[HERE]
    copy = connections.create_connection(HERE)
    copy.settings_dict = ours.settings_dict | {"NAME": str(path)}
    connections[HERE] = copy
    try:
        yield
    finally:
        copy.close()
        connections[HERE] = ours


def check_sqlite(copy: Any) -> None:
    """Refuse a file that is not sound."""
    try:
        (found,) = copy.execute("pragma integrity_check").fetchone()
    except sqlite3.DatabaseError as error:
        found = str(error)
    if found != "ok":
        raise CopyError(f"The database file is damaged: {found}.")


def _dump_postgres(path: Path, rows: Path | None) -> dict[str, int]:
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("set transaction isolation level repeatable read")
        cursor.execute("set local idle_in_transaction_session_timeout = 0")
        cursor.execute("select pg_export_snapshot()")
        snapshot = cursor.fetchone()[0]
        run_postgres("pg_dump", "-Fc", "-f", str(path), f"--snapshot={snapshot}")
        if rows:
            _dump_rows(rows)
        return counts(connection.introspection.table_names(), cursor)


def _dump_rows(path: Path) -> None:
    left_out = list(LEFT_OUT)
    how = {"natural_foreign": True, "exclude": left_out, "verbosity": 0}
    call_command("dumpdata", output=str(path), **how)


def load(folder: Path) -> None:
    """Put the database back as it was, all of it or nothing."""
    path = folder / FILES[connection.vendor]
    if connection.vendor == "sqlite":
        with closing(sqlite3.connect(path)) as source:
            check_sqlite(source)
            connection.ensure_connection()
            source.backup(connection.connection)
        return
    script = folder / "restore.sql"
    tables = ", ".join(f'"{name}"' for name in connection.introspection.table_names())
    connection.close()
    plain = run_postgres("pg_restore", "--no-owner", "--no-acl", "-f", "-", str(path))
    drop = f"drop table {tables} cascade;\n" if tables else ""
    script.write_text(drop + plain, encoding="utf-8")
    run_postgres("psql", "-Xq1", "-v", "ON_ERROR_STOP=1", "-f", str(script))


def load_rows(folder: Path) -> None:
    """Fill an empty database of another make with the rows."""
    call_command("migrate", verbosity=0)
    with transaction.atomic():
        call_command("flush", interactive=False, verbosity=0)
        call_command("loaddata", str(folder / ROWS), verbosity=0)


def run_postgres(program: str, *arguments: str) -> str:
    """Run one of PostgreSQL's own programs on our database; give what it wrote."""
    told = connection.settings_dict
    named = {
        "PGHOST": told["HOST"],
        "PGPORT": str(told["PORT"]),
        "PGUSER": told["USER"],
        "PGPASSWORD": told["PASSWORD"],
        "PGDATABASE": told["NAME"],
        "PGOPTIONS": "",
    }
    given = {name: value for name, value in named.items() if value}
    try:
        done = subprocess.run(
            [program, *arguments],
            env=os.environ | given,
            capture_output=True,
            text=True,
            check=False,
        )
    except FileNotFoundError as error:
        raise CopyError(f"{program} is not here: install postgresql-client.") from error
    if done.returncode:
        raise CopyError(f"{program} said: {done.stderr.strip()}")
    return done.stdout
