"""SQLite when the process is killed, and when the power goes.

How SQLite itself is tested (sqlite.org/testing.html, "Crash Testing"): kill, then
damage what a disk may not have written yet, then look whether what is left is sound.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import sys
import traceback
from contextlib import closing
from pathlib import Path

import pytest
from django.db import connections, transaction

from builds.models import Event, Workshop

pytestmark = pytest.mark.faults
LINE = 12  # bytes of one number told by the writer


@pytest.fixture
def path(sample, tmp_path):
    path = Path(shutil.copy(sample[0], tmp_path / "site.sqlite3"))
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("delete from builds_event")
        connection.execute("update builds_workshop set samples = 0")
    return path


def write(path: Path, told: int) -> None:
    """Write Events and their number, each pair in one transaction, and tell it."""
    connection = connections.create_connection("default")
    connection.settings_dict = connection.settings_dict | {"NAME": str(path)}
    connections["default"] = connection
    number = Workshop.objects.get().samples
    while True:
        number += 1
        with transaction.atomic():
            Event.objects.create(verb="counted", subject=str(number))
            Workshop.objects.update(samples=number)
        os.write(told, f"{number:{LINE - 1}}\n".encode())


def killed(path: Path, after: int) -> int:
    """Let a process write and kill it; give the last number that it promised."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reads)
            write(path, writes)
        except BaseException:
            traceback.print_exc(file=sys.__stderr__)
        finally:
            os._exit(1)
    os.close(writes)
    lines = [os.read(reads, LINE) for _ in range(after)]
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while line := os.read(reads, LINE):
        lines.append(line)
    os.close(reads)
    return int(lines[-1])


def state(path: Path) -> tuple[str, int, int]:
    """Give whether the file is sound, how many were written, and the number kept."""
    with closing(sqlite3.connect(path)) as connection:
        (sound,) = connection.execute("pragma integrity_check").fetchone()
        (many,) = connection.execute("select count(*) from builds_event").fetchone()
        (kept,) = connection.execute("select samples from builds_workshop").fetchone()
    return sound, many, kept


@pytest.mark.django_db
@pytest.mark.fault("F8")
def test_killed_in_the_middle_of_writes_nothing_promised_is_lost(path, only_sqlite):
    """Twenty times, at another place each."""
    chance = random.Random(8)
    for _ in range(20):
        promised = killed(path, after=chance.randint(1, 60))
        sound, many, kept = state(path)
        assert sound == "ok"
        assert many == kept
        assert promised <= kept <= promised + 1


@pytest.mark.django_db
@pytest.mark.fault("F9")
def test_when_the_power_goes_only_whole_transactions_are_left(
    path, tmp_path, only_sqlite
):
    """The log ends anywhere; in a third of the tries eight bytes of it are wrong.

    What was not yet synced may be gone, so numbers may be lost here, never halves.
    """
    chance = random.Random(9)
    opened = 0
    for _ in range(12):
        killed(path, after=chance.randint(5, 60))
        log = Path(f"{path}-wal")
        assert log.stat().st_size > 0
        for _ in range(12):
            victim = tmp_path / "victim.sqlite3"
            for old in tmp_path.glob("victim.sqlite3*"):
                old.unlink()
            shutil.copy(path, victim)
            whole = log.read_bytes()
            cut = bytearray(whole[: chance.randint(0, len(whole))])
            if len(cut) > 8 and chance.random() < 1 / 3:
                at = chance.randrange(len(cut) - 8)
                cut[at : at + 8] = chance.randbytes(8)
            Path(f"{victim}-wal").write_bytes(cut)
            sound, many, kept = state(victim)
            assert sound == "ok"
            assert many == kept
            opened += 1
        # Closed properly, all goes into the file and the log begins anew: what has
        # been carried over and synced cannot be lost from the log any more.
        assert state(path)[0] == "ok"
    assert opened == 144


@pytest.fixture
def only_sqlite():
    if connections["default"].vendor != "sqlite":
        pytest.skip("This is about SQLite.")
