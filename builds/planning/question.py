"""What is asked: the workshop's plan at a moment, by its hash."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
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
    plan = build_plan(at=at, trails=False)
    faults = scheduling.check_plan(plan)
    if faults:
        raise scheduling.PlanError(faults)
    shop = Workshop.current()
    asked = effort(plan) | {"followed": told_so(shop)}
    return Question(plan, digest(plan, asked), shop)


def as_rows(faults: Iterable[scheduling.Fault]) -> list[dict[str, str]]:
    """Write faults as a row keeps them."""
    return [{"where": one.where, "what": one.what, "fix": one.fix} for one in faults]
