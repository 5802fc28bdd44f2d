"""The plan file: in, out, and what is wrong with it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

import scheduling
from builds.planning.problem import build_plan
from builds.planning.store import store_plan

PlanError = scheduling.PlanError


def export_plan(*, at: datetime | None = None) -> str:
    """Write the whole workshop as a plan file."""
    return dump(scheduling.write_plan(build_plan(at=at)))


def import_plan(text: str | bytes | Mapping[str, Any], *, pin_clock: bool) -> None:
    """Replace the workshop by a plan file, or raise PlanError and change nothing."""
    store_plan(scheduling.read_plan(text), pin_clock=pin_clock)


def dump(data: Mapping[str, Any]) -> str:
    """Write a plan file's text."""
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"
