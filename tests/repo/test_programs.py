"""What the Makefile runs by name can be loaded as it is run: with no settings made."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROGRAMS = re.findall(r"-m (tests\.[\w.]+)", (ROOT / "Makefile").read_text())


def test_the_makefile_names_programs():
    assert "tests.builds.load.run" in PROGRAMS


@pytest.mark.parametrize("program", PROGRAMS)
def test_a_program_loads_without_settings(program):
    clean = {k: v for k, v in os.environ.items() if k != "DJANGO_SETTINGS_MODULE"}
    done = subprocess.run(
        [sys.executable, "-c", f"import {program}"],
        cwd=ROOT,
        env=clean,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-1000:]
