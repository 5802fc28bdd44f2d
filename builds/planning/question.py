"""What is asked: the workshop's plan at a moment, by its hash."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

import scheduling
from builds.models import Workshop
from builds.planning.engine import digest, effort
from builds.planning.following import told_so
from builds.planning.problem import build_plan


@dataclass(frozen=True, slots=True)
class Question:
    """A plan without faults, and the hash under which its answer is kept.

    `shop` is the workshop as it was read for this.
    """

    plan: scheduling.Plan
    digest: str
    shop: Workshop


def read_question(*, at: datetime | None = None) -> Question:
    """Read the plan as it stands; raises PlanError if it cannot be used."""
    return _ask(build_plan(at=at, trails=False), Workshop.current())


def brought_up(question: Question) -> Question:
    """Ask the same plan for the moment of now; raises PlanError if it cannot be used.

    A clock that was set back leaves the question as it is.
    """
    now = question.shop.clock()
    if now <= question.plan.now:
        return question
    return _ask(replace(question.plan, now=now), question.shop)


def _ask(plan: scheduling.Plan, shop: Workshop) -> Question:
    faults = scheduling.check_plan(plan)
    if faults:
        raise scheduling.PlanError(faults)
    asked = effort(plan) | {"followed": told_so(shop)}
    return Question(plan, digest(plan, asked), shop)


def as_rows(faults: Iterable[scheduling.Fault]) -> list[dict[str, str]]:
    """Write faults as a row keeps them."""
    return [{"where": one.where, "what": one.what, "fix": one.fix} for one in faults]
