"""One job's part of the answer, and how moments and hours are written."""

from __future__ import annotations

from typing import Any

import numpy as np

from scheduling.critical_path import FOREVER, free_float, total_float
from scheduling.findings import Findings
from scheduling.plan import Job
from scheduling.timeline import PER_HOUR
from scheduling.work import SENT_KINDS


def stamp(found: Findings, quarter: float) -> str | None:
    """Return a quarter as text, None where there is no such moment."""
    if abs(quarter) == FOREVER:
        return None
    return found.moment(quarter).isoformat(timespec="minutes")


def stamps(found: Findings) -> list[dict[str, str | None]]:
    """Return the moments of every node as text, by name; all of a name at once."""
    columns = {
        "early_start": found.early.start,
        "early_finish": found.early.finish,
        "late_start": found.late.start,
        "late_finish": found.late.finish,
        "planned_start": found.shared.start,
        "planned_finish": found.shared.finish,
        "p50": found.odds.points[1],
        "p80": found.odds.points[2],
    }
    rows = np.array(list(columns.values()))
    never = abs(rows) == FOREVER
    texts = found.network.clocks.timeline.texts(np.where(never, 0.0, rows))
    known = texts.astype(object)
    known[never] = None
    return [dict(zip(columns, row, strict=True)) for row in known.T.tolist()]


def hours(quarters: float) -> float:
    """Return finite quarters as hours, rounded far below a minute."""
    return round(quarters / PER_HOUR, 6) + 0.0


def names(found: Findings, chain: list[int]) -> list[str]:
    """Return the job ids of a chain of nodes."""
    return [
        job
        for number in chain
        if not found.network.nodes[number].gone
        for job in found.network.nodes[number].ids
    ]


def job_json(
    found: Findings, job: Job, end: float, told: list[dict[str, str | None]]
) -> dict[str, Any]:
    """Return one job's part of the answer.

    `end` is the earliest finish of all; `told` what `stamps` gives.
    """
    condition = found.conditions[job.id]
    words = {
        "condition": condition.word,
        "reasons": list(condition.reasons),
        "waits_for": list(condition.waits_for),
    }
    if job.state in ("done", "left out"):
        return {**_nothing(job), **words}
    number = found.network.index[job.id]
    node = found.network.nodes[number]
    early, shared = found.early, found.shared
    slack, free = _floats(found, number, end)
    held = found.holdings[job.id]
    driver = early.driver[number]
    at = told[number]
    vendor = [job.vendor] if job.vendor and job.kind in SENT_KINDS else []
    return {
        "early_start": at["early_start"],
        "early_finish": at["early_finish"],
        "late_start": at["late_start"],
        "late_finish": at["late_finish"],
        "total_float_hours": slack,
        "free_float_hours": free,
        "critical": slack is not None and slack * PER_HOUR < 1e-3,
        "in_hand_days": _in_hand(found, number),
        "planned_start": at["planned_start"],
        "planned_finish": at["planned_finish"],
        "who": list(shared.team[number]) or vendor,
        **words,
        "needed_for": _needed_for(found, number, job),
        "duration_hours": hours(node.work.length) if not node.work.in_days else None,
        "driven_by": None if driver is None else found.network.nodes[driver].ids[0],
        "holds": held.holds,
        "only_this": held.only_this,
        "frees": list(held.frees),
        "held_hours": round(held.held_hours, 2),
        "criticality": round(float(found.odds.criticality[number]), 4),
        "p50": at["p50"],
        "p80": at["p80"],
    }


def _nothing(job: Job) -> dict[str, Any]:
    times = dict.fromkeys(
        [
            "early_start",
            "early_finish",
            "late_start",
            "late_finish",
            "total_float_hours",
            "free_float_hours",
            "in_hand_days",
            "planned_start",
            "planned_finish",
            "needed_for",
            "duration_hours",
            "driven_by",
            "p50",
            "p80",
        ]
    )
    if job.finished:
        times["planned_finish"] = job.finished.isoformat(timespec="minutes")
    if job.started:
        times["planned_start"] = job.started.isoformat(timespec="minutes")
    return {
        **times,
        "critical": False,
        "who": [job.person] if job.person else [],
        "holds": 0,
        "only_this": 0,
        "frees": [],
        "held_hours": 0.0,
        "criticality": 0.0,
    }


def _floats(
    found: Findings, number: int, end: float
) -> tuple[float | None, float | None]:
    """Return total and free float in hours, None where no end waits for the node."""
    total = total_float(found.network, number, found.early, found.late)
    if total == FOREVER:
        return None, None
    return hours(total), hours(free_float(found.network, number, found.early, end))


def _in_hand(found: Findings, number: int) -> float | None:
    limit = found.show_late.finish[number]
    if limit == FOREVER:
        return None
    shop = found.network.clocks.shop()
    early = found.early.finish[number]
    return round(shop.days_worked(limit) - shop.days_worked(early), 2)


def _needed_for(found: Findings, number: int, job: Job) -> str | None:
    for level in found.network.plan.levels:
        goal = found.goals.get((job.build, level))
        if goal and number in goal.nodes:
            return level
    return None
