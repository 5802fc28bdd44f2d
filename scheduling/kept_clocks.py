"""Clocks kept from one answer to the next, for as long as the times are the same."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from scheduling.calendars import YEARS_AHEAD, Clocks, timeline_for
from scheduling.clock_tables import WORKSHOPS
from scheduling.plan import Plan


@dataclass(frozen=True, slots=True)
class _Times:
    """All of a plan that its clocks are made from, as text; equal text, same clocks."""

    text: str
    years: int
    plan: Plan = field(compare=False)


def clocks_for(plan: Plan, years: int = YEARS_AHEAD) -> Clocks:
    """Return the clocks of a plan; those of a plan with the same times are kept.

    Notes
    -----
    An edit seldom touches calendars, days away or closures, and writing three years
    of them out costs more than all else before the odds.
    """
    times = (
        timeline_for(plan, years),
        plan.calendars,
        [(one.id, one.calendar, one.away) for one in plan.people],
        [(one.id, one.calendar) for one in plan.places],
        [(one.id, one.calendar, one.closed) for one in plan.vendors],
    )
    return _clocks(_Times(repr(times), years, plan))


@lru_cache(maxsize=WORKSHOPS)
def _clocks(times: _Times) -> Clocks:
    return Clocks(times.plan, times.years)
