"""Builders of small plan files, and their answers, for the reference checks."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np

import scheduling

Row = tuple[Sequence[str], float, float, float]

NOW = datetime(2027, 1, 4)
WORKDAYS = ("mon", "tue", "wed", "thu", "fri")
ALL_DAYS = (*WORKDAYS, "sat", "sun")
DAY_HOURS = ("08:00-16:00",)
CLOSES = "16:00"


def answered(plan: Mapping[str, Any], **options: Any) -> dict[str, Any]:
    """Return the JSON answer; small budgets, for these plans are small."""
    chosen = {"schedules": 20, "samples": 200} | options
    return scheduling.answer(scheduling.read_plan(dict(plan)), **chosen).as_dict()


def written(moment: datetime) -> str:
    return moment.strftime("%Y-%m-%dT%H:%M")


def hours_after(text: str, now: datetime = NOW) -> float:
    """Return elapsed hours from `now` to a moment of the answer."""
    return (datetime.fromisoformat(text) - now) / timedelta(hours=1)


def three_points(low: float, likely: float, high: float) -> dict[str, float]:
    return {"low": low, "likely": likely, "high": high}


def fixed(length: float) -> dict[str, Any]:
    return {"likely": length, "fixed": True}


def textbook(
    table: Mapping[str, Row], due: float | None = None, **more: Any
) -> dict[str, Any]:
    """Return a plan of elapsed-hour jobs; the book's unit of time is one hour.

    `due` puts a show that many hours after `now`.
    """
    jobs = [
        {
            "id": name,
            "build": "car",
            "kind": "bench",
            "estimate": three_points(low, likely, high),
            "after": list(before),
        }
        for name, (before, low, likely, high) in table.items()
    ]
    plan = {"now": written(NOW), "reading": "ends", "builds": [{"id": "car"}]}
    if due is not None:
        show = {
            "id": "show",
            "name": "Show",
            "move_in": written(NOW + timedelta(hours=due)),
            "entries": [{"build": "car", "level": "complete"}],
        }
        plan["shows"] = [show]
    return plan | {"jobs": jobs} | more


def chance(result: Mapping[str, Any]) -> float:
    """Return P(the car of a `textbook` plan is complete by its show)."""
    return result["shows"]["show"]["entries"]["car"]["levels"]["complete"][
        "probability"
    ]


def pert_samples(table: Mapping[str, Row], count: int, seed: int) -> dict[str, Any]:
    """Return independent PERT-beta draws per job, made with numpy alone."""
    rng = np.random.default_rng(seed)
    drawn = {}
    for name, (_, low, likely, high) in table.items():
        if high == low:
            drawn[name] = np.full(count, float(low))
            continue
        alpha = 1 + 4 * (likely - low) / (high - low)
        beta = 1 + 4 * (high - likely) / (high - low)
        drawn[name] = low + (high - low) * rng.beta(alpha, beta, count)
    return drawn


def length_samples(table: Mapping[str, Row], count: int, seed: int) -> Any:
    """Return the finish of the whole table per draw; rows are in order of work."""
    drawn = pert_samples(table, count, seed)
    ends: dict[str, Any] = {}
    for name, (before, *_) in table.items():
        start = np.maximum.reduce([ends[one] for one in before]) if before else 0.0
        ends[name] = start + drawn[name]
    return np.maximum.reduce(list(ends.values()))


def week(days: Iterable[str] = WORKDAYS, hours: Sequence[str] = DAY_HOURS) -> dict:
    return {day: list(hours) for day in days}


def closed(days: Iterable[date | str]) -> list[str]:
    """Return single closed days as spans."""
    return [f"{day}/{day}" for day in days]
