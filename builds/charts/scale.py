"""From moments to places along a line."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass(frozen=True, slots=True)
class Scale:
    """A stretch of time laid along a stretch of paper."""

    start: datetime
    end: datetime
    left: float
    right: float

    def at(self, when: datetime) -> float:
        """Give the place of a moment, kept on the paper."""
        share = (when - self.start) / (self.end - self.start)
        place = self.left + share * (self.right - self.left)
        return round(min(max(place, self.left), self.right), 1)


def monday(when: datetime) -> datetime:
    """Give the midnight at which the week of a moment begins."""
    midnight = when.replace(hour=0, minute=0, second=0, microsecond=0)
    return midnight - timedelta(days=midnight.weekday())
