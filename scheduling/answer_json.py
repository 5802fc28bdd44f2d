"""The stable JSON shape of an answer: moments as YYYY-MM-DDTHH:MM, numbers rounded."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from scheduling.answer_job import hours, job_json, names, stamp, stamps
from scheduling.critical_path import driving_chain
from scheduling.findings import Findings
from scheduling.goals import Due, shows_ahead
from scheduling.moved import moved_jobs
from scheduling.plan import Job
from scheduling.readiness import Key, joint, standard_error
from scheduling.timeline import PER_DAY

Points = Mapping[Key, dict[str, Any]]

SURE = 0.8


def answer_json(found: Findings) -> dict[str, Any]:
    """Return the published shape of an answer.

    Returns
    -------
    dict
        Keys as in the plan-file contract; only plain JSON values.
    """
    network = found.network
    end = max(found.early.finish, default=network.now)
    shop = network.clocks.shop()
    whole = range(len(network.nodes))
    told = stamps(found)
    points = {key: _points(found, key) for key in found.goals}
    return {
        "now": stamp(found, network.now),
        "seed": found.seed,
        "samples": found.samples,
        "duration_hours": hours(shop.worked(end) - shop.worked(network.now)),
        "critical_path": names(found, driving_chain(found.early, whole)),
        "jobs": {job.id: job_json(found, job, end, told) for job in network.plan.jobs},
        "builds": {
            build.id: _build(found, build.id, points) for build in network.plan.builds
        },
        "other": points.get((None, network.plan.levels[-1])),
        "shows": {
            show.id: _show(found, show.id, points) for show in shows_ahead(network.plan)
        },
        "blocking": _blocking(found),
        "moves_show": [
            {
                "job": move.job,
                "build": move.due.build,
                "show": move.due.show,
                "gain_probability": round(move.gain_probability, 4),
                "gain_p80_days": round(move.gain_p80_days, 2),
                "probability_now": round(move.probability_now, 4),
                "probability_then": round(move.probability_then, 4),
            }
            for move in found.moves
        ],
        "ring": [
            {
                "job": call.job,
                "build": call.build,
                "vendor": call.vendor,
                "whom": call.whom,
                "why": call.why,
                "due": call.due.isoformat() if call.due else None,
                "kind": call.kind,
                "gain_probability": round(call.gain_probability, 4),
            }
            for call in found.calls
        ],
        "today": _today(found),
        "plan": _plan(found),
        "problems": [
            {"where": fault.where, "what": fault.what, "fix": fault.fix}
            for fault in found.faults
        ],
    }


def _points(found: Findings, key: Key) -> dict[str, Any]:
    ends = found.goals[key].ends
    planned = max((found.shared.finish[n] for n in ends), default=found.network.now)
    return {
        "planned": stamp(found, planned),
        **{f"p{p}": stamp(found, at) for p, at in found.odds.percentiles(key).items()},
        "critical_path": names(found, driving_chain(found.early, ends)),
    }


def _build(found: Findings, build: str, points: Points) -> dict[str, Any]:
    levels = found.network.plan.levels
    if (build, levels[0]) not in found.goals:
        return {"left_out": True, "levels": {}, "critical_path": []}
    ends = found.goals[build, found.wanted[build]].ends
    return {
        "left_out": False,
        "wanted_level": found.wanted[build],
        "levels": {one: points[build, one] for one in levels},
        "critical_path": names(found, driving_chain(found.early, ends)),
    }


def _show(found: Findings, show: str, points: Points) -> dict[str, Any]:
    record = next(one for one in found.network.plan.shows if one.id == show)
    dues = [due for due in found.dues if due.show == show]
    shop = found.network.clocks.shop()
    move_in = found.network.clocks.timeline.quarter(record.move_in)
    to_go = shop.days_worked(move_in) - shop.days_worked(found.network.now)
    all_ready = joint(found.odds, dues)
    return {
        "name": record.name,
        "move_in": record.move_in.isoformat(timespec="minutes"),
        "days_to_go": round(to_go, 1),
        "all_ready": round(all_ready, 4),
        "all_ready_standard_error": round(standard_error(all_ready, found.samples), 4),
        "entries": {due.build: _entry(found, due, points) for due in dues},
    }


def _entry(found: Findings, due: Due, points: Points) -> dict[str, Any]:
    levels = {}
    best = None
    for level in found.network.plan.levels:
        levels[level] = _level(found, due, level, points)
        if levels[level]["probability"] >= SURE:
            best = level
    return {"level": due.level, "best_level": best, "levels": levels}


def _level(found: Findings, due: Due, level: str, points: Points) -> dict[str, Any]:
    key = (due.build, level)
    chance = found.odds.chance(key, due.move_in)
    shop = found.network.clocks.shop()
    ends = found.goals[key].ends
    planned = max((found.shared.finish[n] for n in ends), default=found.network.now)
    in_hand = shop.days_worked(due.move_in) - shop.days_worked(planned)
    return {
        **points[key],
        "probability": round(chance, 4),
        "probability_alone": round(_alone(found, due, key), 4),
        "standard_error": round(standard_error(chance, found.samples), 4),
        "in_hand_days": round(in_hand, 2),
    }


def _alone(found: Findings, due: Due, key: Key) -> float:
    return float((found.alone[key] <= due.move_in).mean())


def _blocking(found: Findings) -> list[dict[str, Any]]:
    def weight(job: Job) -> tuple[int, float, str]:
        held = found.holdings[job.id]
        return -held.holds, -held.held_hours, job.id

    front = [
        job
        for job in found.network.plan.jobs
        if job.id in found.holdings and not found.conditions[job.id].waits_for
    ]
    return [_blocking_row(found, job) for job in sorted(front, key=weight)]


def _blocking_row(found: Findings, job: Job) -> dict[str, Any]:
    held = found.holdings[job.id]
    return {
        "job": job.id,
        "build": job.build,
        "holds": held.holds,
        "only_this": held.only_this,
        "frees": list(held.frees),
        "held_hours": round(held.held_hours, 2),
    }


def _today(found: Findings) -> dict[str, list[str]]:
    tomorrow = (found.network.now // PER_DAY + 1) * PER_DAY
    today: dict[str, list[str]] = {
        one.id: [] for one in found.network.plan.people if not one.left_out
    }
    order = sorted(
        range(len(found.network.nodes)), key=lambda n: (found.shared.start[n], n)
    )
    for number in order:
        if found.shared.start[number] < tomorrow:
            for person in found.shared.team[number]:
                today[person].extend(found.network.nodes[number].ids)
    return today


def _plan(found: Findings) -> dict[str, Any]:
    network, shared = found.network, found.shared
    shop = network.clocks.shop()
    began = shop.worked(network.now)
    last = max(shared.finish, default=network.now)
    least = max(found.early.finish, default=network.now)
    return {
        "makespan_hours": hours(shop.worked(last) - began),
        "bound_hours": hours(shop.worked(least) - began),
        "status": shared.status,
        "schedules": shared.schedules,
        "moved": [
            {
                "job": one.job,
                "build": one.build,
                "was": stamp(found, one.was),
                "now": stamp(found, one.now),
                "was_who": list(one.was_who),
                "who": list(one.who),
                "why": one.why,
            }
            for one in moved_jobs(network, shared, found.following)
        ],
    }
