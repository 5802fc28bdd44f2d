"""What really happens in an invented workshop, drawn before its first morning.

The laws are those the plan file states (`DEVELOPERS.md`, the plan file): low and high
are the 10 % and 90 % points of a lognormal, one factor per vendor and one per car are
shared, actual over quoted is lognormal. The code is apart from the engine's: plain
Python, one number at a time.

A vendor who gives dates quotes first, and what comes of it is the quote times a ratio:

    log quote  = m - habit + car + rest        together: log length = m + vendor
    log length = log quote + habit + vendor + own               + car + (sd of estimate)
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from random import Random
from typing import Any

Row = dict[str, Any]

VENDOR_SHARE = 0.25
CAR_SHARE = 0.12
Z90 = 1.2815515655446004
PRIOR_CENTRE, PRIOR_SPREAD = math.log(1.15), 0.45
PRIOR_WEIGHT, PRIOR_DEGREES = 4.0, 5.0


@dataclass
class Round:
    """One time through a job: its length in the job's unit, and what was quoted."""

    length: float
    quoted: int | None = None


@dataclass
class Truth:
    """The rounds of every job; nobody in the workshop may look."""

    rounds: dict[str, list[Round]] = field(default_factory=dict)


@dataclass
class Fate:
    """What the jobs of one life share."""

    random: Random
    cars: dict[str, float]
    vendors: dict[str, float]


def draw_truth(document: Row, seed: int) -> Truth:
    """Return every job's true rounds for one life of a workshop."""
    random = Random(f"life {seed}")
    fate = Fate(
        random,
        {one["id"]: random.gauss(0.0, CAR_SHARE) for one in document["builds"]},
        {one["id"]: random.gauss(0.0, VENDOR_SHARE) for one in document["vendors"]},
    )
    vendors = {one["id"]: one for one in document["vendors"]}
    truth = Truth()
    for job in document["jobs"]:
        vendor = vendors.get(job.get("vendor", ""))
        count = _times(random, job, vendor)
        truth.rounds[job["id"]] = [_round(fate, job, vendor) for _ in range(count)]
    return truth


def _times(random: Random, job: Row, vendor: Row | None) -> int:
    """Return how often a job is done: a vendor may be refused more than once."""
    if vendor is None:
        return 2 if random.random() < job.get("rework_chance", 0.0) else 1
    count = 1
    while random.random() < vendor["reject_chance"]:
        count += 1
    return count


def log_law(estimate: Row) -> tuple[float, float]:
    """Return centre and spread of the log: low and high are its 10 and 90 % points."""
    low, high = math.log(estimate["low"]), math.log(estimate["high"])
    return (low + high) / 2.0, (high - low) / (2.0 * Z90)


def _round(fate: Fate, job: Row, vendor: Row | None) -> Round:
    centre, spread = log_law(job["estimate"])
    if job["kind"] in ("bench", "check", "outside", "order"):
        centre += fate.cars[job["build"]]
    if vendor is None:
        return Round(math.exp(centre + spread * fate.random.gauss(0.0, 1.0)))
    shared = fate.vendors[vendor["id"]]
    if not vendor["true"]["promises"]:
        own = spread * fate.random.gauss(0.0, 1.0)
        return Round(math.exp(centre + shared + own))
    return _quoted(fate.random, vendor, centre, spread, shared)


def _quoted(
    random: Random, vendor: Row, centre: float, spread: float, shared: float
) -> Round:
    habit, predicted = learned_habit(vendor["history"])
    left = spread**2 + VENDOR_SHARE**2 - predicted**2
    quoted = centre - habit + math.sqrt(max(left, 0.0)) * random.gauss(0.0, 1.0)
    days = max(1, round(math.exp(quoted)))
    own = math.sqrt(vendor["true"]["spread"] ** 2 - VENDOR_SHARE**2)
    ratio = vendor["true"]["median"] * math.exp(shared + own * random.gauss(0.0, 1.0))
    return Round(days * ratio, days)


def learned_habit(history: list[Row]) -> tuple[float, float]:
    """Return centre and spread of the log of the next ratio, from past returns.

    Normal with a normal-inverse-gamma prior (Gelman et al., Bayesian Data Analysis,
    3.3; from memory). The lead's estimates are made with it in mind.
    """
    logs = [math.log(one["actual_days"] / one["quoted_days"]) for one in history]
    count = len(logs)
    scale = PRIOR_SPREAD**2 / (1.0 + 1.0 / PRIOR_WEIGHT)
    mean = sum(logs) / count if count else PRIOR_CENTRE
    weight = PRIOR_WEIGHT + count
    squares = PRIOR_DEGREES * scale + sum((one - mean) ** 2 for one in logs)
    squares += PRIOR_WEIGHT * count / weight * (mean - PRIOR_CENTRE) ** 2
    centre = (PRIOR_WEIGHT * PRIOR_CENTRE + count * mean) / weight
    spread = math.sqrt(squares / (PRIOR_DEGREES + count) * (1.0 + 1.0 / weight))
    return centre, spread
