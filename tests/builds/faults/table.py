"""The table at the end of a run: each fault, what counts as surviving it, and whether.

Used by `tests/conftest.py`. A fault is the worst of its tests; one without a test that
ran says so.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

FAULTS = tomllib.loads(Path(__file__).with_name("faults.toml").read_text())
ORDER = ("not run", "passed", "skipped", "failed")
ID = "fault"


def note_faults(item: Any) -> None:
    """Carry the faults of a test to its report."""
    for mark in item.iter_markers("fault"):
        item.user_properties.extend((ID, one) for one in mark.args)


def results(stats: dict[str, list[Any]]) -> dict[str, str]:
    """Give what became of each fault."""
    found = dict.fromkeys(FAULTS, ORDER[0])
    for outcome, reports in stats.items():
        word = "failed" if outcome in ("failed", "error") else outcome
        for report in reports if word in ORDER else []:
            for name, one in getattr(report, "user_properties", ()):
                if name == ID:
                    found[one] = max(found[one], word, key=ORDER.index)
    return found


def lines(stats: dict[str, list[Any]]) -> list[str]:
    """Write the table."""
    became = results(stats)
    return [
        f"{name:4} {became[name]:8} {what}\n              {mark}"
        for name, (what, mark) in FAULTS.items()
    ]
