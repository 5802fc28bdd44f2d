"""Small random workshops with everything in them that makes planning hard.

Seeded: problem n is the same every time and on every machine. Part-time people with
trades, levels and paces, days away, places of one or two units, vendors with slots and
consignments, waits in hours and days, links of every kind, unbroken jobs, work under
way, and dates a show wants.
"""

from __future__ import annotations

import random
from datetime import date, datetime, timedelta
from typing import Any

NOW = datetime(2027, 3, 1, 8, 0)  # a Monday
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri")


def problem(seed: int) -> dict[str, Any]:
    """Return one plan file of five to nine open jobs."""
    dice = random.Random(seed)
    plan = _workshop(dice)
    count = dice.randint(5, 9)
    cars = [one["id"] for one in plan["builds"]]
    jobs: list[dict[str, Any]] = []
    for number in range(count):
        job = _job(dice, number, plan)
        job["build"] = dice.choice(cars)
        job["after"] = _links(dice, number)
        jobs.append(job)
    plan["jobs"] = jobs
    _begin_one(dice, plan)
    _send_together(dice, plan)
    return plan


def _workshop(dice: random.Random) -> dict[str, Any]:
    long = ["08:00-12:15", "13:00-16:45"]
    short = dice.choice((["08:00-13:00"], [], long))
    week = dict.fromkeys(WEEKDAYS[:4], long) | {"fri": short}
    mornings = {day: ["09:00-12:00"] for day in dice.sample(WEEKDAYS, 4)}
    cars = [{"id": f"car{n}", "rank": n + 1} for n in range(dice.choice((1, 1, 2, 3)))]
    plan: dict[str, Any] = {
        "now": NOW.isoformat(timespec="minutes"),
        "calendars": {
            "shop": {"week": week, "closed": _closed(dice)},
            "mornings": {"week": mornings},
        },
        "people": [_person(dice, n) for n in range(dice.choice((2, 2, 3)))],
        "places": [
            {"id": "ramp", "capacity": dice.choice((1, 1, 2, 3))},
            {"id": "booth", "capacity": 1, "calendar": "shop"},
        ],
        "vendors": [
            {"id": "plater", "slots": _slots(dice)},
            {"id": "trimmer", "closed": _closed(dice)},
        ],
        "builds": cars,
        "shows": [],
    }
    if dice.random() < 0.6:
        wanted = dice.sample(cars, dice.randint(1, len(cars)))
        move_in = NOW + timedelta(days=dice.randint(2, 12))
        plan["shows"] = [
            {
                "id": "show",
                "move_in": move_in.isoformat(timespec="minutes"),
                "entries": [
                    {"build": one["id"], "level": "complete"} for one in wanted
                ],
            }
        ]
    return plan


def _closed(dice: random.Random) -> list[str]:
    if dice.random() < 0.5:
        return []
    first = NOW.date() + timedelta(days=dice.randint(1, 8))
    return [f"{first}/{first + timedelta(days=dice.randint(0, 1))}"]


def _slots(dice: random.Random) -> dict[str, Any]:
    first: date = NOW.date() - timedelta(days=dice.randint(0, 5))
    return {"every_working_days": dice.randint(1, 4), "from": first.isoformat()}


def _person(dice: random.Random, number: int) -> dict[str, Any]:
    trades = dict.fromkeys(("weld", "panel", "trim"), 3) if number == 0 else {}
    for trade in ("weld", "panel", "trim"):
        if dice.random() < 0.6:
            trades.setdefault(trade, dice.randint(1, 3))
    return {
        "id": f"hand{number}",
        "calendar": dice.choice(("shop", "shop", "mornings")),
        "trades": trades,
        "away": _closed(dice),
        "pace": {"weld": dice.choice((0.75, 1.25, 1.5))} if dice.random() < 0.4 else {},
    }


def _job(dice: random.Random, number: int, plan: dict[str, Any]) -> dict[str, Any]:
    kinds = ("bench",) * 8 + ("check", "outside", "outside", "stand", "order", "mark")
    kind = dice.choice(kinds)
    job: dict[str, Any] = {"id": f"job{number}", "kind": kind}
    if kind == "mark":
        return job
    if kind in ("outside", "order"):
        likely: float = dice.choice((0.5, 1, 1, 2, 3))
        job["vendor"] = (
            "plater" if kind == "outside" and dice.random() < 0.6 else ("trimmer")
        )
    else:
        likely = dice.choice((0.5, 1, 2, 3, 4.25, 6, 8))
    job["estimate"] = {"likely": likely, "fixed": True}
    if kind in ("stand", "outside") and dice.random() < 0.3:
        job["places"] = [{"place": dice.choice(plan["places"])["id"]}]
    if kind in ("bench", "check"):
        job |= _hands(dice, plan)
        if dice.random() < 0.2 and likely <= 3:
            job["unbroken"] = True
    if dice.random() < 0.1:
        later = NOW + timedelta(hours=dice.randint(1, 60))
        job["not_before"] = later.isoformat(timespec="minutes")
    return job


def _hands(dice: random.Random, plan: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if dice.random() < 0.85:
        found = {"trade": dice.choice(("weld", "panel", "trim"))}
        found["trade_level"] = dice.choice((2, 2, 3))
        if dice.random() < 0.15:
            found["people"] = 2
    if dice.random() < 0.5:
        place = dice.choice(plan["places"])
        uses = dice.randint(1, place["capacity"])
        found["places"] = [{"place": place["id"], "uses": uses}]
    return found


def _links(dice: random.Random, number: int) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for before in range(number):
        if dice.random() < 0.5 / number:
            link: dict[str, Any] = {"job": f"job{before}"}
            link["link"] = dice.choice(("after", "after", "after", "with", "by"))
            if dice.random() < 0.3:
                link["wait_hours"] = dice.choice((0.5, 2, 24))
            elif dice.random() < 0.2:
                link["wait_days"] = dice.choice((0.5, 1))
            found.append(link)
    return found


def _begin_one(dice: random.Random, plan: dict[str, Any]) -> None:
    """Put one bench job under way, with two hours of it left."""
    bench = [job for job in plan["jobs"] if job["kind"] == "bench"]
    if bench and dice.random() < 0.3:
        job = dice.choice(bench)
        job |= {"state": "under way", "remaining": 2}
        job["started"] = (NOW - timedelta(days=3)).isoformat(timespec="minutes")


def _send_together(dice: random.Random, plan: dict[str, Any]) -> None:
    """Send two parts to the plater as one consignment."""
    sent = [job for job in plan["jobs"] if job.get("vendor") == "plater"][-2:]
    if len(sent) == 2 and dice.random() < 0.7:
        sent[1]["after"] = list(sent[0]["after"])
        sent[1].pop("places", None)
        ids = [job["id"] for job in sent]
        plan["consignments"] = [{"id": "crate", "vendor": "plater", "jobs": ids}]
