"""Invented workshops as plan documents: people, places, vendors, cars, shows."""

from __future__ import annotations

import math
from datetime import date, timedelta
from random import Random
from typing import Any

from tests.scheduling.calibration.chains import DATELESS, Car, build_jobs
from tests.scheduling.calibration.truth import VENDOR_SHARE, learned_habit

Row = dict[str, Any]

FIRST_DAY = date(2027, 1, 11)  # a Monday
LEVELS = ["on the stand", "running", "road-ready", "complete"]
DAYS = ("mon", "tue", "wed", "thu", "fri")
SHOP = {day: ["08:00-12:15", "13:00-16:45"] for day in DAYS[:4]} | {
    "fri": ["08:00-13:00"]
}
SCHOOL = {day: ["09:00-14:30"] for day in DAYS}
THREE_DAYS = {day: SHOP[day] for day in DAYS[:3]}
TRADES = ("fabrication", "mechanics", "fitting")
HANDS: tuple[dict[str, int], ...] = (
    {"fabrication": 3, "fitting": 2},
    {"mechanics": 3, "fitting": 2},
    {"fitting": 3, "mechanics": 2},
    {"fabrication": 2, "fitting": 2},
    {"mechanics": 2, "fitting": 1},
)


def invent(seed: int) -> Row:
    """Return a workshop of two or three cars on its first morning."""
    random = Random(f"workshop {seed}")
    vendors = [_vendor(random, number) for number in range(4)]
    widths = {one["id"]: _width(random, one) for one in vendors}
    cars = [f"car{number}" for number in range(random.choice((2, 3, 3)))]
    jobs: list[Row] = []
    consignments: list[Row] = []
    for car in cars:
        more, together = build_jobs(random, Car(car, LEVELS, widths))
        jobs += more
        consignments += together
    return {
        "format": "workshop-plan",
        "version": 1,
        "now": f"{FIRST_DAY}T08:00",
        "seed": seed,
        "levels": LEVELS,
        "calendars": {
            "shop": {"week": SHOP, "closed": ["2027-03-26/2027-03-29", "2027-05-03"]},
            "school": {"week": SCHOOL, "closed": ["2027-02-15/2027-02-19"]},
            "three": {"week": THREE_DAYS},
        },
        "people": _people(random),
        "places": [{"id": "ramp", "capacity": 2}, {"id": "booth", "capacity": 1}],
        "vendors": vendors,
        "builds": [{"id": car, "rank": number + 1} for number, car in enumerate(cars)],
        "shows": [_show(random, car, jobs) for car in cars],
        "jobs": jobs,
        "consignments": consignments,
    }


def _people(random: Random) -> list[Row]:
    count = random.choice((3, 4, 4, 5))
    people = []
    for number in range(count):
        calendar = "shop" if number < 3 else random.choice(("shop", "school", "three"))
        row: Row = {
            "id": f"hand{number}",
            "calendar": calendar,
            "trades": HANDS[number],
            "away": _away(random),
        }
        if number == 3 and random.random() < 0.5:
            row["pace"] = {"fitting": 1.25}
        people.append(row)
    return people


def _away(random: Random) -> list[str]:
    first = FIRST_DAY + timedelta(days=7 * random.randint(1, 14))
    last = first + timedelta(days=random.choice((1, 4, 4)))
    return [f"{first}/{last}"]


def _vendor(random: Random, number: int) -> Row:
    past = random.choice((0, 2, 5, 9))
    spread = random.uniform(0.33, 0.47)
    median = 1.15 * math.exp(random.gauss(0.0, spread / 2.0))
    row: Row = {
        "id": f"vendor{number}",
        "calendar": "shop",
        "history": [_past(random, median, spread) for _ in range(past)],
        "reject_chance": random.choice((0.0, 0.05, 0.1)),
    }
    closed = FIRST_DAY + timedelta(days=7 * random.randint(2, 12))
    row["closed"] = [f"{closed}/{closed + timedelta(days=4)}"]
    if number == 3:
        first = FIRST_DAY + timedelta(days=random.randint(0, 4))
        row["slots"] = {"every_working_days": 5, "from": str(first)}
    # what only the vendor knows; taken out before anybody sees the plan
    row["true"] = {
        "median": median,
        "spread": spread,
        "promises": row["id"] != DATELESS and random.random() < 0.7,
    }
    return row


def _past(random: Random, median: float, spread: float) -> Row:
    quoted = random.randint(4, 20)
    ratio = median * math.exp(spread * random.gauss(0.0, 1.0))
    return {"quoted_days": quoted, "actual_days": round(max(quoted * ratio, 0.5), 2)}


def _width(random: Random, vendor: Row) -> float:
    """Return the log-sd of estimates for a vendor: no narrower than its own habit."""
    _, spread = learned_habit(vendor["history"])
    least = math.sqrt(max(spread**2 - VENDOR_SHARE**2, 0.0) + 0.02)
    return max(random.uniform(0.35, 0.6), least)


def _show(random: Random, car: str, jobs: list[Row]) -> Row:
    """Return a show near or far: half to nearly twice the work of the longest trade."""
    hours = dict.fromkeys(TRADES, 0.0)
    for job in jobs:
        if "trade" in job:
            hours[job["trade"]] += job["estimate"]["likely"]
    days = max(hours.values()) / 7.0 * random.uniform(0.5, 1.8) + 12
    day = FIRST_DAY + timedelta(days=7 * round(days / 5) + random.randint(0, 4))
    entry = {"build": car, "level": random.choice(LEVELS[1:])}
    return {"id": f"show-{car}", "move_in": f"{day}T16:00", "entries": [entry]}
