"""What the judge looks at: a plan beside the times and names an answer claims."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from scheduling.errors import Fault
from scheduling.judge_days import Days
from scheduling.plan import Job, Plan
from scheduling.resting import without_resting

HANDS = ("bench", "check")
SENT = ("outside", "order")
FIX = "Do not work to this plan; work it out again."


@dataclass(frozen=True, slots=True)
class Claim:
    """One live job with when the answer says it runs, and by whom."""

    job: Job
    start: datetime
    finish: datetime
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Case:
    """A plan, its calendars, and the answer's claims by job id.

    `excused` are jobs the answer itself says nobody or no time was found for.
    """

    plan: Plan
    days: Days
    jobs: Mapping[str, Job]
    claims: Mapping[str, Claim]
    excused: frozenset[str]

    def bound(self) -> Iterator[Claim]:
        """Yield the claims that people, places and hours are checked for."""
        for claim in self.claims.values():
            if claim.job.id not in self.excused:
                yield claim


def begun(job: Job) -> bool:
    """Return whether a job is under way or away with a vendor."""
    return job.state == "under way" or (job.state == "open" and job.sent is not None)


def live(job: Job) -> bool:
    """Return whether a job still has to be done."""
    return job.state in ("open", "under way")


def fault(job: Job, what: str) -> Fault:
    """Return what is wrong with one job of the answer."""
    return Fault(f"jobs/{job.id}", f"“{job.title or job.id}” {what}", FIX)


def expected(job: Job, plan: Plan) -> float:
    """Return the length a plan counts with, in the unit of the job's kind.

    Notes
    -----
    `likely` under one-in-ten, (a + 4m + b) / 6 under ends. Of work begun with no
    rest stated, only a tenth is asked for.
    """
    estimate = job.estimate
    if job.kind == "mark" or estimate is None:
        return 0.0
    if job.kind in SENT and job.pieces and job.pieces_back >= job.pieces:
        return 0.0
    if begun(job) and job.remaining is not None:
        return job.remaining
    length = estimate.likely
    low, high = estimate.low, estimate.high
    spread = low is not None and high is not None and not estimate.fixed
    if plan.reading == "ends" and spread:
        length = ((low or 0.0) + 4.0 * length + (high or 0.0)) / 6.0
    return 0.1 * length if begun(job) else length


def read_case(plan: Plan, answer: Mapping[str, Any]) -> tuple[Case, list[Fault]]:
    """Return the case, and what is missing from the answer or rewrites history.

    The jobs of a car left out are left out of it.
    """
    plan = without_resting(plan)
    claims: dict[str, Claim] = {}
    found: list[Fault] = []
    for job in plan.jobs:
        told = answer["jobs"].get(job.id, {})
        start, finish = told.get("planned_start"), told.get("planned_finish")
        if job.state == "done":
            ended = job.finished and job.finished.isoformat(timespec="minutes")
            if finish != ended:
                found.append(fault(job, f"was done at {ended}, not at {finish}"))
        elif live(job):
            if not start or not finish:
                found.append(fault(job, "has no planned start and finish"))
                continue
            claims[job.id] = Claim(
                job,
                datetime.fromisoformat(start),
                datetime.fromisoformat(finish),
                tuple(told.get("who", ())),
            )
        elif start or finish:
            found.append(fault(job, "is left out and takes no time"))
    excused = frozenset(
        problem["where"].partition("/")[2] for problem in answer.get("problems", ())
    )
    jobs = {job.id: job for job in plan.jobs}
    return Case(plan, Days(plan), jobs, claims, excused), found
