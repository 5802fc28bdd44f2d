"""Whose the processor's time was: the pages', the database's, the generator's."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress

from psutil import NoSuchProcess, Process

GENERATOR = "generator"


def spent(heads: Mapping[str, int]) -> dict[str, float]:
    """Give the seconds each has taken so far; `heads` are processes by name."""
    ours = os.times()
    found = {name: _whole(pid) for name, pid in heads.items()}
    return found | {GENERATOR: ours.children_user + ours.children_system}


def said(before: Mapping[str, float], after: Mapping[str, float], count: int) -> str:
    """Say what one request took of each."""
    took = {name: (after[name] - before[name]) / count * 1000 for name in after}
    parts = ", ".join(f"{name} {ms:.1f}" for name, ms in took.items())
    return f"processor, ms a request: {parts}; all {sum(took.values()):.1f}"


def _whole(pid: int) -> float:
    """Give the seconds of a process, with those of its children, dead or alive."""
    head = Process(pid)
    found = 0.0
    for one in (head, *head.children(recursive=True)):
        with suppress(NoSuchProcess):
            found += sum(one.cpu_times()[:4])
    return found
