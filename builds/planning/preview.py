"""What if: the same questions of a changed copy of the plan. Nothing is stored."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

import scheduling
from builds.planning.engine import ask
from builds.planning.following import plan_followed
from builds.planning.problem import build_plan

Data = dict[str, Any]
LATE = " (late)"  # ends the id of the stand-in for the days a job comes late


def preview(
    *,
    finish: Iterable[str] = (),
    delay: Mapping[str, float] | None = None,
    change: Mapping[str, Mapping[str, Any]] | None = None,
    at: datetime | None = None,
) -> Data:
    """Answer the plan with changes, by job key; raises PlanError if they do not fit.

    `finish` ends jobs now. `delay` makes jobs end so many working days later.
    `change` sets job fields, named and written as in the plan file; None takes one out.
    """
    data: Data = dict(scheduling.write_plan(build_plan(at=at)))
    for key in finish:
        _finish(_job(data, key), data["now"])
    for key, fields in (change or {}).items():
        _change(_job(data, key), fields)
    for key, days in (delay or {}).items():
        _delay(data, key, days)
    plan = scheduling.read_plan(data)
    answer = ask(plan, following=plan_followed())
    made_up = frozenset(key + LATE for key in delay or {})
    cleaned: Data = _without(answer, made_up)
    return cleaned


def _job(data: Data, key: str) -> Data:
    found: Data = next(job for job in data["jobs"] if job["id"] == key)
    return found


def _change(job: Data, fields: Mapping[str, Any]) -> None:
    job.update(fields)
    for name, value in fields.items():
        if value is None:
            del job[name]


def _finish(job: Data, now: str) -> None:
    job["state"] = "done"
    job["finished"] = now
    job.setdefault("started", now)
    job.pop("remaining", None)
    if job.get("pieces") is not None:
        job["pieces_back"] = job["pieces"]


def _delay(data: Data, key: str, days: float) -> None:
    """Let all that waited for the end of a job wait for a stand-in behind it."""
    late: Data = {
        "id": key + LATE,
        "kind": "order",
        "estimate": {"likely": days, "fixed": True},
        "after": [key],
    }
    job = _job(data, key)
    late |= {name: job[name] for name in ("build", "level") if job.get(name)}
    late["title"] = job.get("title") or key
    for other in data["jobs"]:
        other["after"] = [_moved(link, key) for link in other.get("after", [])]
    data["jobs"].append(late)


def _moved(link: str | Data, key: str) -> str | Data:
    if link == key:
        return key + LATE
    if isinstance(link, dict) and link["job"] == key and link.get("link") != "with":
        return link | {"job": key + LATE}
    return link


def _without(value: Any, keys: frozenset[str]) -> Any:
    """Take every mention of the made-up jobs out of an answer."""
    if isinstance(value, dict):
        return {
            name: _without(one, keys) for name, one in value.items() if name not in keys
        }
    if isinstance(value, list):
        return [_without(one, keys) for one in value if not _mentions(one, keys)]
    return None if isinstance(value, str) and value in keys else value


def _mentions(value: Any, keys: frozenset[str]) -> bool:
    if isinstance(value, dict):
        return value.get("job") in keys
    return isinstance(value, str) and value in keys
