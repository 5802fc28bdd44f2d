"""A vendor's batch rule between its row and the engine's record."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from scheduling import plan as records


def read_batch(kept: Mapping[str, Any] | None) -> records.BatchRule | None:
    """Give the rule a row holds."""
    if kept is None:
        return None
    return records.BatchRule(
        same=tuple(kept["same"]),
        kilos=kept["kilos"],
        days={colour: tuple(days) for colour, days in kept["days"].items()},
    )


def write_batch(rule: records.BatchRule | None) -> dict[str, Any] | None:
    """Give what a row keeps of a rule."""
    if rule is None:
        return None
    days = {colour: list(days) for colour, days in rule.days.items()}
    return {"same": list(rule.same), "kilos": rule.kilos, "days": days}
