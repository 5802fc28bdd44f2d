"""An upgrade that is broken off half way, and the way back from one that was not.

PostgreSQL and SQLite both undo what a transaction has done to tables.
"""

from __future__ import annotations

import hashlib
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings as project

from builds.upkeep.locked import new_key
from tests.builds.faults.site import until

pytestmark = [pytest.mark.faults, pytest.mark.fault("F16")]
LATER = "tests.builds.faults.later"
DUMP = (
    "dumpdata",
    "-e",
    "contenttypes",
    "-e",
    "auth.permission",
    "-e",
    "builds.lifesign",
)


@pytest.fixture
def keep(tmp_path):
    return {"BACKUP_FOLDER": str(tmp_path / "copies"), "BACKUP_KEY": new_key()}


@pytest.fixture(params=["sqlite", "postgres"])
def address(request, database):
    if request.param == "sqlite":
        return f"sqlite:///{database}"
    return request.getfixturevalue("sample_there")("upgrade")[0]


def later(served, address, keep, room: Path, *command: str) -> subprocess.Popen[bytes]:
    """Run a command of a version to come, which has one migration more."""
    return subprocess.Popen(
        [sys.executable, "-m", LATER, *command],
        cwd=project.BASE_DIR,
        env=served | keep | {"DATABASE_URL": address, "HOLD": str(room)},
    )


def test_broken_off_it_is_undone_and_what_was_done_can_be_taken_back(
    served, address, keep, tmp_path, manage
):
    now = keep | {"DATABASE_URL": address}
    before = hashlib.sha256(manage(*DUMP, **now).encode()).hexdigest()

    upgrade = later(served, address, keep, tmp_path, "upgrade")
    until(lambda: (tmp_path / "half way").exists())
    os.kill(upgrade.pid, signal.SIGKILL)
    upgrade.wait()
    assert hashlib.sha256(manage(*DUMP, **now).encode()).hexdigest() == before
    (copy,) = Path(keep["BACKUP_FOLDER"]).iterdir()

    (tmp_path / "go on").touch()
    assert later(served, address, keep, tmp_path, "upgrade").wait() == 0
    assert "spoilt by the upgrade" in manage(*DUMP, **now)
    manage("restore", "--replace", str(copy), **now)
    assert hashlib.sha256(manage(*DUMP, **now).encode()).hexdigest() == before
