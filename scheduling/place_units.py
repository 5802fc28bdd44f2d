"""How much of each place jobs take."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from scheduling.plan import Job


def units_taken(jobs: Iterable[Job]) -> Counter[str]:
    """Return the units of each place that jobs take together."""
    units: Counter[str] = Counter()
    for use in (use for job in jobs for use in job.places):
        units[use.place] += use.uses
    return units
