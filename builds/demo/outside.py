"""What goes with what, and one job that could be done in two ways."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

BLACK = {"process": "anodise", "colour": "black", "alloy": "6082"}
ZINC = {"process": "zinc"}
MORE: dict[str, dict[str, Any]] = {
    "q114-x04": {**BLACK, "kilos": 4, "visible": True},
    "q121-x01": {**BLACK, "kilos": 1},
    "q116-e04": {**BLACK, "kilos": 3},
    "q109-x04": {**ZINC, "kilos": 9},
    "q121-x02": {**ZINC, "kilos": 4},
    "q116-e07": {**ZINC, "kilos": 18},
    "q118-e07": {**ZINC, "kilos": 16},
    "q116-h08": {
        "value": 340,
        "ways": [
            {
                "id": "dunnock",
                "name": "New shafts from the machinist",
                "kind": "outside",
                "vendor": "dunnock",
                "estimate": {"low": 5, "likely": 8, "high": 20},
                "cost": 610,
            },
            {
                "id": "in-house",
                "name": "Old shafts shortened here",
                "trade": "fabrication",
                "trade_level": 3,
                "estimate": {"low": 6, "likely": 10, "high": 24},
                "cost": 180,
                "spoil_chance": 0.1,
            },
        ],
        "way": "dunnock",
    },
}


def with_more(jobs: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return the jobs, those named above with what more is known of them."""
    return [job | MORE.get(job["id"], {}) for job in jobs]
