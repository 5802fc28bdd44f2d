"""The disk is full, and then there is room again."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
from contextlib import closing

import pytest

from tests.builds.faults.conftest import REDIS

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]
JOB = "q114-x03"


@pytest.fixture
def small_disk(sample, tmp_path):
    """A disk of little more than the database, and the database on it."""
    place = tmp_path / "disk"
    place.mkdir()
    size = sample[0].stat().st_size + 6_000_000
    mount = ("mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(place))
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("Only root may mount a small disk.")
    yield shutil.copy(sample[0], place / "site.sqlite3")
    subprocess.run(("umount", "-l", str(place)), check=True)


@pytest.mark.fault("F10")
def test_it_is_said_and_all_can_be_read_and_later_written_again(
    small_disk, sample, serve
):
    site = serve(
        f"sqlite:///{small_disk}", sample[1], REDIS_URL=REDIS, DISK_FLOOR_MB="0"
    )
    assert site.report(JOB, "before").status == 302
    ballast = small_disk.parent / "ballast"
    fill(ballast)
    answers = [site.report(JOB, f"full {turn} " + "x" * 3000) for turn in range(20)]
    refused = [one for one in answers if one.status == 503]
    assert refused
    assert {one.status for one in answers} <= {302, 503}
    assert all("disk of the workshop’s machine is full" in one.text for one in refused)
    assert site.get("/people/").status == 200
    ballast.unlink()
    assert site.report(JOB, "after").status == 302
    site.stop()
    with closing(sqlite3.connect(small_disk)) as connection:
        assert connection.execute("pragma integrity_check").fetchone() == ("ok",)
        told = connection.execute("select words from builds_event").fetchall()
    words = {row[0] for row in told}
    kept = [f"full {n} " for n, one in enumerate(answers) if one.status == 302]
    assert {"before", "after"} <= words
    assert all(any(one.startswith(start) for one in words) for start in kept)


def fill(path) -> None:
    """Write until there is no room for another byte."""
    with path.open("wb", buffering=0) as file:
        size = 1_000_000
        while size:
            try:
                file.write(b"0" * size)
            except OSError:
                size //= 2
