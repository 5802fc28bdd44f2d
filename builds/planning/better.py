"""Which of two answers to the same plan serves the lead's wishes better."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any

import scheduling

Facts = Mapping[str, Any]
Cost = tuple[float, float]

PROVEN = "proven best"


def cost(answer: Facts, plan: scheduling.Plan) -> Cost:
    """Give (chances missed at the shows, hours until the cars are ready), by rank.

    The lead trusts the odds, so they decide and not the single-number plan: first in
    whole hundredths, then the dates met 80 times in 100. Two answers to one plan
    are drawn alike, so the difference is the plan's.
    """
    ranks = sorted({one.rank for one in plan.builds})
    weight = {one.id: 1.0 / (1 + ranks.index(one.rank)) for one in plan.builds}
    missed = sum(weight.get(car, 1.0) * (1 - chance) for car, chance in _wanted(answer))
    whole = sum(
        weight.get(car, 1.0) * _hours(plan.now, level.get("p80"))
        for car, facts in answer.get("builds", {}).items()
        for level in facts.get("levels", {}).values()
    )
    return round(missed, 2), whole


def is_proven(answer: Facts) -> bool:
    """Say whether no plan can be better."""
    return bool(answer.get("plan", {}).get("status") == PROVEN)


def figures(answer: Facts) -> dict[str, Any]:
    """Keep of an answer what is compared: odds, dates, and who does what when."""
    return {
        "jobs": {
            key: {"planned_start": facts.get("planned_start"), "who": facts.get("who")}
            for key, facts in answer.get("jobs", {}).items()
        },
        "shows": {
            key: {
                "name": show["name"],
                "move_in": show["move_in"],
                "entries": {
                    car: {"level": entry["level"], "levels": _odds(entry["levels"])}
                    for car, entry in show["entries"].items()
                },
            }
            for key, show in answer.get("shows", {}).items()
        },
        "builds": {
            key: {
                "wanted_level": facts.get("wanted_level"),
                "levels": _odds(facts.get("levels", {})),
            }
            for key, facts in answer.get("builds", {}).items()
        },
        "plan": answer.get("plan", {}),
    }


def _wanted(answer: Facts) -> Iterator[tuple[str, float]]:
    for show in answer.get("shows", {}).values():
        for car, entry in show["entries"].items():
            yield car, float(entry["levels"][entry["level"]]["probability"])


def _hours(since: datetime, until: str | None) -> float:
    if not until:
        return 0.0
    return (datetime.fromisoformat(until) - since).total_seconds() / 3600


def _odds(levels: Facts) -> dict[str, Any]:
    kept = ("probability", "p80", "planned")
    return {
        name: {key: points[key] for key in kept if key in points}
        for name, points in levels.items()
    }
