"""Files nobody can read without the key, and that are whole or not there."""

from __future__ import annotations

import os
from pathlib import Path

from cryptography.fernet import Fernet, InvalidToken


class CopyError(Exception):
    """No copy was made or put back; the words say why."""


def new_key() -> str:
    """Make a key."""
    return Fernet.generate_key().decode()


def write_locked(path: Path, content: bytes, key: str) -> None:
    """Write beside, sync and rename: after a power cut it is there or it is not."""
    locked = _lock(key).encrypt(content)
    beside = path.with_name(path.name + ".part")
    with beside.open("wb") as file:
        file.write(locked)
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def read_locked(path: Path, key: str) -> bytes:
    """Give what is in the file, or say that the key or the file is wrong."""
    try:
        return _lock(key).decrypt(path.read_bytes())
    except OSError as error:
        raise CopyError(f"{path}: {error.strerror}.") from error
    except InvalidToken as error:
        raise CopyError(
            f"{path} was locked with another key than BACKUP_KEY, or is damaged."
        ) from error


def _lock(key: str) -> Fernet:
    if not key:
        raise CopyError(
            "BACKUP_KEY is empty. `python manage.py backup --new-key` makes one; keep"
            " it where the copies are not."
        )
    try:
        return Fernet(key)
    except ValueError as error:
        raise CopyError("BACKUP_KEY is not a key of `backup --new-key`.") from error
