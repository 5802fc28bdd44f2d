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
    """Give (hours late for shows, hours until the cars are as wanted), by rank.

    The order of wishes is the planner's: dated cars first, the first car most.
    """
    ranks = sorted({one.rank for one in plan.builds})
    weight = {one.id: 1.0 / (1 + ranks.index(one.rank)) for one in plan.builds}
    late = sum(weight.get(car, 1.0) * hours for car, hours in _late(answer))
    whole = sum(
        weight.get(car, 1.0) * _hours(plan.now, level.get("planned"))
        for car, facts in answer.get("builds", {}).items()
        for level in facts.get("levels", {}).values()
    )
    return late, whole


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


def _late(answer: Facts) -> Iterator[tuple[str, float]]:
    for show in answer.get("shows", {}).values():
        move_in = datetime.fromisoformat(show["move_in"])
        for car, entry in show["entries"].items():
            planned = entry["levels"].get(entry["level"], {}).get("planned")
            yield car, max(0.0, _hours(move_in, planned))


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
