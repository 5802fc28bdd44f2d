"""Advice on what is going to a vendor: by when, and all together or not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from scheduling.chances import Effort, Entry, chances, each_alone
from scheduling.errors import Fault, PlanError
from scheduling.going import is_to_go
from scheduling.plan import Plan
from scheduling.send_by import WANTED, SendBy, send_by
from scheduling.sending import Load, Option, Sending, sending_options


@dataclass(frozen=True, slots=True)
class Advice:
    """What `advise` found; `as_dict` gives it as plain JSON values."""

    wanted: float
    send_by: SendBy
    sending: Sending

    def as_dict(self) -> dict[str, Any]:
        """Return the advice as plain JSON values.

        Returns
        -------
        dict
            `wanted`; `send_by` with `first`, `day` (null: none before the last show
            matters, or `late`), `entries` of `show, build, best, kept, after`, and how
            often it `asked`; `ready`, `late`, `held_back` job ids; `options` of `name,
            loads, charges, cost, entries`, each load with `jobs, leaves, p50, p80`.
        """
        by = self.send_by
        return {
            "wanted": self.wanted,
            "send_by": {
                "first": by.first.isoformat(),
                "day": by.day.isoformat() if by.day else None,
                "late": by.late,
                "entries": [
                    {
                        "show": show,
                        "build": build,
                        "best": round(best, 4),
                        "kept": round(by.kept[show, build], 4),
                        "after": _rounded(by.after.get((show, build))),
                    }
                    for (show, build), best in by.best.items()
                ],
                "asked": by.asked,
            },
            "ready": list(self.sending.ready),
            "late": list(self.sending.late),
            "held_back": list(self.sending.held_back),
            "options": [_option(one) for one in self.sending.options],
        }


def advise(
    plan: Plan,
    jobs: tuple[str, ...],
    *,
    wanted: float = WANTED,
    schedules: int = 2,
    samples: int = 1_000,
    seed: int | None = None,
    following: Mapping[str, Any] | None = None,
) -> Advice:
    """Advise on jobs that are going the same way: send by when, and how.

    Parameters
    ----------
    plan : Plan
        As `read_plan` returns it: checked.
    jobs : tuple of ids
        Outside jobs for one vendor, open, none of which has left.
    wanted : float
        Chance to keep, 0 to 1.
    schedules, samples, seed : int
        The effort of each asking; there are about ten.
    following : mapping, optional
        The answer people work to, so that nothing else is moved for its own sake.

    Raises
    ------
    PlanError
        The jobs do not go the same way, or have left.
    """
    _check(plan, jobs)
    effort = Effort(schedules, samples, seed, following)
    alone = chances(each_alone(plan, jobs), effort, jobs)
    return Advice(
        wanted,
        send_by(plan, jobs, effort, alone.entries, wanted=wanted),
        sending_options(plan, jobs, effort, alone.trips),
    )


def _check(plan: Plan, jobs: tuple[str, ...]) -> None:
    records = {job.id: job for job in plan.jobs}
    found = [records[job] for job in jobs if job in records and is_to_go(records[job])]
    vendors = {job.vendor for job in found}
    if len(found) < max(len(jobs), 1) or len(vendors) != 1 or None in vendors:
        what = "do not all have to leave for one vendor"
        raise PlanError((Fault("jobs", what, "Choose open jobs of one vendor."),))


def _option(one: Option) -> dict[str, Any]:
    return {
        "name": one.name,
        "loads": [_load(load) for load in one.loads],
        "charges": one.charges,
        "cost": one.cost,
        "entries": _entries(one.entries),
    }


def _load(load: Load) -> dict[str, Any]:
    trip = load.trip
    return {
        "jobs": list(load.jobs),
        "leaves": _stamp(trip.leaves),
        "p50": _stamp(trip.p50),
        "p80": _stamp(trip.p80),
    }


def _entries(entries: Mapping[Entry, float]) -> list[dict[str, Any]]:
    return [
        {"show": show, "build": build, "probability": round(chance, 4)}
        for (show, build), chance in entries.items()
    ]


def _rounded(chance: float | None) -> float | None:
    return None if chance is None else round(chance, 4)


def _stamp(at: datetime) -> str:
    return at.isoformat(timespec="minutes")
