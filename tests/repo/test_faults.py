"""Every fault that must be survived has a test that says so."""

from __future__ import annotations

import re
from pathlib import Path

from tests.builds.faults.table import FAULTS

TESTS = Path(__file__).parents[1]
MARK = re.compile(r'mark\.fault\("(F\d+)"\)')


def marked() -> set[str]:
    files = TESTS.rglob("test_*.py")
    return {name for path in files for name in MARK.findall(path.read_text())}


def test_every_fault_has_a_test_and_every_test_its_line_in_the_table():
    assert marked() == set(FAULTS)


def test_the_table_has_all_nineteen():
    assert list(FAULTS) == [f"F{number}" for number in range(1, 20)]
