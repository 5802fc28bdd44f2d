"""A PostgreSQL server that a test may stop, kill and start."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
from contextlib import suppress
from pathlib import Path

from tests.builds.faults.site import until


def programs() -> Path | None:
    """Give the folder of PostgreSQL's own programs, the newest."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    if found:
        return found[-1].parent
    named = shutil.which("initdb")
    return Path(named).parent if named else None


class Postgres:
    """A server in a folder of its own, with settings as they are by default."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.room = Path(tempfile.mkdtemp())
        self.room.chmod(0o711)
        self.data = self.room / "pg" / "data"
        self.data.parent.mkdir()
        if os.geteuid() == 0:
            shutil.chown(self.data.parent, "postgres")
        self._run("initdb", "-D", str(self.data), "-U", "postgres", "-A", "trust")
        self.start()

    def _run(self, program: str, *arguments: str, must: bool = True) -> None:
        bin_folder = programs()
        assert bin_folder
        command = [str(bin_folder / program), *arguments]
        if os.geteuid() == 0:
            command = ["runuser", "-u", "postgres", "--", *command]
        done = subprocess.run(
            command, cwd=self.room / "pg", stdout=subprocess.DEVNULL, check=False
        )
        assert done.returncode == 0 or not must, command

    def start(self) -> None:
        told = f"-p {self.port} -c listen_addresses=127.0.0.1 -k {self.data.parent}"
        log = str(self.data.parent / "log")
        self._run("pg_ctl", "-D", str(self.data), "-w", "-l", log, "-o", told, "start")

    def stop_fast(self) -> None:
        self._run("pg_ctl", "-D", str(self.data), "-w", "-m", "fast", "stop")

    def head(self) -> int:
        """Give the number of the process that has started all others."""
        return int((self.data / "postmaster.pid").read_text().split()[0])

    def kill(self) -> None:
        """Kill the head and all it has started, and wait until they are gone."""
        head = self.head()
        os.kill(head, signal.SIGSTOP)  # it starts no others while we look
        whole = [*children(head), head]
        for pid in whole:
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        until(lambda: not any(alive(pid) for pid in whole))
        # A dead head that nobody has fetched yet still counts as there.
        for left in (self.data / "postmaster.pid", *self.data.parent.glob(".s.PGSQL*")):
            left.unlink()

    def create(self, name: str, like: str = "template1") -> str:
        """Make a database, empty or like another, and give its address."""
        at = ("-h", "127.0.0.1", "-p", str(self.port), "-U", "postgres")
        self._run("createdb", *at, "-T", like, name)
        return f"postgres://postgres@127.0.0.1:{self.port}/{name}"

    def remove(self) -> None:
        if (self.data / "postmaster.pid").exists():
            self._run(
                "pg_ctl", "-D", str(self.data), "-m", "immediate", "stop", must=False
            )
        shutil.rmtree(self.room)


def children(pid: int) -> list[int]:
    found = Path(f"/proc/{pid}/task/{pid}/children").read_text()
    return [int(one) for one in found.split()]


def alive(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except FileNotFoundError:
        return False
    return state != "Z"
