"""Whose hours go where, by the newest answer and the plan as it stands."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

import scheduling
from builds.planning.problem import build_plan
from builds.selectors.weeks import Hours, Load, Own, Stretch


def load_of(answer: Mapping[str, Any], until: date) -> Load:
    """Give everybody's hours from the answer's own moment to the end of a day."""
    plan = build_plan(at=datetime.fromisoformat(answer["now"]), trails=False)
    found = scheduling.load_of(plan, answer["jobs"], until)
    return Load(
        {key: _hours(one) for key, one in found.people.items()},
        {key: _hours(one) for key, one in found.places.items()},
    )


def _hours(found: scheduling.Hours) -> Hours:
    return Hours(
        own=tuple(Own(*one) for one in found.own),
        given=tuple(_stretch(one) for one in found.given),
        asked=tuple(_stretch(one) for one in found.asked),
    )


def _stretch(one: scheduling.Stretch) -> Stretch:
    return Stretch(one.job, one.start, one.finish, one.hours)
