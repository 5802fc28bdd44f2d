"""A copy of everything in one locked file, and the way back."""

from __future__ import annotations

import hashlib
import io
import json
import tempfile
import tomllib
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connection
from django.db.migrations.loader import MigrationLoader

from builds.models import LifeSign
from builds.upkeep import databases
from builds.upkeep.kept import name_of
from builds.upkeep.locked import CopyError, read_locked, write_locked

MANIFEST = "manifest.json"
MEDIA = "media/"


def make_copy(folder: Path, *, key: str, at: datetime | None = None) -> Path:
    """Copy the database, then the files its rows name, and lock it all."""
    made = at or datetime.now(UTC)
    path = folder / name_of(made)
    packed = io.BytesIO()
    with tempfile.TemporaryDirectory() as room, zipfile.ZipFile(packed, "w") as pack:
        pack.compression = zipfile.ZIP_DEFLATED
        rows = databases.dump(Path(room), as_rows=_of_this_version())
        members = {one.name: one for one in Path(room).iterdir()} | _media()
        sums = {name: _add(pack, name, one) for name, one in sorted(members.items())}
        facts = {"made": made.isoformat(), "rows": rows, "sha256": sums}
        pack.writestr(MANIFEST, json.dumps(facts | _about(), indent=1))
    folder.mkdir(parents=True, exist_ok=True)
    write_locked(path, packed.getvalue(), key)
    if LifeSign._meta.db_table in rows:  # not before the upgrade that brings it
        LifeSign.leave(LifeSign.COPY)
    return path


def _about() -> dict[str, Any]:
    project = tomllib.loads((settings.BASE_DIR / "pyproject.toml").read_text())
    return {
        "app": project["project"]["version"],
        "vendor": connection.vendor,
        "migrations": sorted(_applied()),
    }


def _applied() -> set[str]:
    return {".".join(one) for one in MigrationLoader(connection).applied_migrations}


def _known() -> set[str]:
    return {".".join(one) for one in MigrationLoader(connection).disk_migrations}


def _of_this_version() -> bool:
    return _applied() == _known()


def _media() -> dict[str, Path]:
    root = Path(settings.MEDIA_ROOT)
    files = (path for path in root.rglob("*") if path.is_file())
    return {MEDIA + path.relative_to(root).as_posix(): path for path in files}


def _add(pack: zipfile.ZipFile, name: str, path: Path) -> str:
    content = path.read_bytes()
    pack.writestr(name, content)
    return hashlib.sha256(content).hexdigest()


def put_back(path: Path, *, key: str) -> dict[str, Any]:
    """Put a copy in the place of what is there; give what the copy says of itself.

    Everything is checked before anything is touched.
    """
    with tempfile.TemporaryDirectory() as room:
        facts = unpack(path, Path(room), key=key)
        _check_version(facts)
        if facts["vendor"] == connection.vendor:
            databases.load(Path(room))
            _check_counts(facts["rows"])
        else:
            databases.load_rows(Path(room))
        _put_back_media(Path(room) / MEDIA)
    return facts


def unpack(path: Path, room: Path, *, key: str) -> dict[str, Any]:
    """Unlock a copy into a folder and compare every file with its sum."""
    with zipfile.ZipFile(io.BytesIO(read_locked(path, key))) as pack:
        facts: dict[str, Any] = json.loads(pack.read(MANIFEST))
        for name, told in facts["sha256"].items():
            if hashlib.sha256(pack.read(name)).hexdigest() != told:
                raise CopyError(f"{name} is not what it was when the copy was made.")
        pack.extractall(room, facts["sha256"])
    return facts


def _check_version(facts: dict[str, Any]) -> None:
    known = _known()
    newer = set(facts["migrations"]) - known
    if newer:
        raise CopyError(
            f"The copy was made by a newer version ({facts['app']}), which also had"
            f" {', '.join(sorted(newer))}. Put that version in place first."
        )
    if facts["vendor"] != connection.vendor and set(facts["migrations"]) != known:
        raise CopyError(
            "A copy of another make of database needs the version that made it"
            f" ({facts['app']}). Put it back there, upgrade, and copy again."
        )


def _check_counts(told: dict[str, int]) -> None:
    with connection.cursor() as cursor:
        found = databases.counts(told, cursor)
    if found != told:
        raise CopyError("Not all rows came back. Nothing else was changed.")


def _put_back_media(source: Path) -> None:
    root = Path(settings.MEDIA_ROOT)
    for path in source.rglob("*"):
        if path.is_file():
            target = root / path.relative_to(source)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(path.read_bytes())
