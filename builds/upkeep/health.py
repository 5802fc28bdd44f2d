"""Is the site well: what a monitor asks, and what the lead is told."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import redis
from django.conf import settings
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor

from builds.models import LifeSign
from builds.selectors.alarms import COPY_DUE

SILENT = timedelta(minutes=5)  # a task may take two, and then the next sign is due
SOUND_SQLITE = (3, 51, 3)


@dataclass(frozen=True, slots=True)
class Check:
    """One thing looked at; `stops` says that nothing works without it."""

    name: str
    ok: bool
    says: str
    stops: bool = False


def checks() -> list[Check]:
    """Look at everything; what cannot be asked is not well."""
    database = _try("database", _database, stops=True)
    if not database.ok:
        return [database, _try("disk", _disk), _try("queue", _queue)]
    return [
        database,
        _try("migrations", _migrations, stops=True),
        *[_try(name, look) for name, look in LOOKS.items()],
    ]


def room_left() -> int:
    """Give the megabytes free where the database and the copies lie."""
    name = str(settings.DATABASES["default"]["NAME"])
    beside = Path(name).parent
    here = beside if Path(name).is_absolute() and beside.is_dir() else settings.BASE_DIR
    return shutil.disk_usage(here).free // 1_000_000


def _try(
    name: str, look: Callable[[], tuple[bool, str]], *, stops: bool = False
) -> Check:
    try:
        ok, says = look()
    except Exception as error:
        ok, says = False, f"{type(error).__name__}: {error}"
    return Check(name, ok, says, stops)


def _database() -> tuple[bool, str]:
    """Write and read back."""
    with transaction.atomic():
        LifeSign.leave(LifeSign.PROBE)
        found = LifeSign.objects.filter(name=LifeSign.PROBE).exists()
    if connection.vendor != "sqlite":
        return found, connection.vendor
    return found and _sound(), f"SQLite {_sqlite_version()}, journal {_journal()}"


def _sqlite_version() -> str:
    with connection.cursor() as cursor:
        cursor.execute("select sqlite_version()")
        return str(cursor.fetchone()[0])


def _journal() -> str:
    with connection.cursor() as cursor:
        cursor.execute("pragma journal_mode")
        return str(cursor.fetchone()[0])


def _sound() -> bool:
    """Say that no two processes share a write-ahead log that could be spoilt."""
    version = tuple(int(part) for part in _sqlite_version().split("."))
    return version >= SOUND_SQLITE or _journal() != "wal"


def _migrations() -> tuple[bool, str]:
    executor = MigrationExecutor(connection)
    open_ones = executor.migration_plan(executor.loader.graph.leaf_nodes())
    names = ", ".join(str(migration) for migration, _ in open_ones)
    return not names, f"not applied: {names}" if names else "all applied"


def _disk() -> tuple[bool, str]:
    free = room_left()
    return free >= settings.DISK_FLOOR_MB, f"{free} MB free"


def _queue() -> tuple[bool, str]:
    if not settings.REDIS_URL:
        return True, "none: forecasts are worked out on the spot"
    asked = redis.Redis.from_url(
        settings.REDIS_URL, socket_timeout=2, socket_connect_timeout=2
    )
    with asked:
        return bool(asked.ping()), "answers"


def _worker() -> tuple[bool, str]:
    if not settings.REDIS_URL:
        return True, "none: forecasts are worked out on the spot"
    return _young(LifeSign.WORKER, SILENT)


def _copy() -> tuple[bool, str]:
    if not settings.BACKUP_FOLDER:
        return True, "BACKUP_FOLDER is not set: copies are somebody else's business"
    return _young(LifeSign.COPY, COPY_DUE)


def _young(name: str, most: timedelta) -> tuple[bool, str]:
    age = LifeSign.ages().get(name)
    if age is None:
        return False, "never seen"
    return age <= most, f"last seen {int(age.total_seconds())} s ago"


LOOKS = {"queue": _queue, "worker": _worker, "disk": _disk, "copy": _copy}
