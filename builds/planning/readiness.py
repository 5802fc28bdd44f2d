"""All four answers from a plan file, or from the workshop as it stands."""

from __future__ import annotations

import json
from dataclasses import dataclass

import scheduling
from builds.planning.problem import build_plan


@dataclass(frozen=True, slots=True)
class Effort:
    """How long the engine may look and how often it draws; None: as the plan says."""

    seconds: float = 1.0
    schedules: int | None = None
    samples: int | None = None
    seed: int | None = None


@dataclass(frozen=True, slots=True)
class Readiness:
    """A plan and what the engine says about it."""

    plan: scheduling.Plan
    answer: scheduling.Answer

    def as_json(self) -> str:
        """Write the answer for another program."""
        return json.dumps(self.answer.as_dict(), indent=1)

    def as_text(self) -> str:
        """Write the answer for someone to read."""
        return scheduling.morning_text(self.answer, self.plan)


def work_out(text: bytes | None, effort: Effort) -> Readiness:
    """Answer a plan file (None: the database); raises PlanError with every fault."""
    plan = build_plan() if text is None else scheduling.read_plan(text)
    answer = scheduling.answer(
        plan,
        seconds=effort.seconds,
        schedules=effort.schedules,
        samples=effort.samples,
        seed=effort.seed,
    )
    return Readiness(plan, answer)
