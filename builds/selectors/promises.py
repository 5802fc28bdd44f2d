"""What vendors have said, call by call."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from builds.charts import wording
from builds.models import Promise


def slips(promises: Iterable[Promise]) -> int:
    """Count how often a date was moved to a later one; no date at all is no slip."""
    dates = [one.date for one in promises if one.date is not None]
    return sum(later > earlier for earlier, later in pairwise(dates))


def last_word(promise: Promise | None) -> str:
    """Say what was said the last time, by whom and when."""
    if promise is None or not (promise.said or promise.speaker or promise.date):
        return ""
    on = f" {wording.day(promise.given)}" if promise.given else ""
    who = f", {promise.speaker}" if promise.speaker else ""
    said = f"“{promise.said}”" if promise.said else _plain(promise)
    return f"Last word{on}{who}: {said}"


def _plain(promise: Promise) -> str:
    return f"back {wording.day(promise.date)}" if promise.date else "no date"
