"""Read a length of work as people write it: `2h30`, `1.5d`, `90m`, `3`."""

from __future__ import annotations

import re
from dataclasses import dataclass

from builds.charts import wording
from builds.models import Kind

LONGEST = 1_000_000  # as in the plan file
HOW = "Write it like “2h30”, “1.5d”, “90m” or “3”."
PLAIN = re.compile(r"[0-9]+(?:\.[0-9]*)?|\.[0-9]+")
CLOCK = re.compile(r"([0-9]+)(?:h|:)([0-9]{1,2})")
PART = re.compile(
    r"([0-9]+(?:\.[0-9]+)?|\.[0-9]+)(weeks?|w|days?|d|hours?|hrs?|h|minutes?|mins?|min|m)"
)
PIECES = {"½": ".5", "¼": ".25", "¾": ".75"}

DAYS_KINDS = (Kind.OUTSIDE, Kind.ORDER, Kind.DECISION)


@dataclass(frozen=True, slots=True)
class Length:
    """What was typed: a bare number, or weeks, days and hours."""

    number: float = 0.0
    weeks: float = 0.0
    days: float = 0.0
    hours: float = 0.0

    @property
    def bare(self) -> bool:
        """Say whether no unit was typed."""
        return not (self.weeks or self.days or self.hours)

    def for_kind(self, kind: str, day_hours: float) -> float:
        """Give the figure in the unit of a kind of job; raises ValueError."""
        if kind in DAYS_KINDS:
            return self._in_days(7 if kind == Kind.DECISION else 5, unit_words(kind))
        per_day, per_week = (24.0, 7) if kind == Kind.STAND else (day_hours, 5)
        days = self.weeks * per_week + self.days
        return round(self.number + days * per_day + self.hours, 4)

    def _in_days(self, per_week: int, unit: str) -> float:
        if self.hours:
            raise ValueError(f"This is counted in {unit}. Write it like “3” or “3d”.")
        return self.number + self.weeks * per_week + self.days


def read_length(text: str) -> Length:
    """Turn what was typed into a length; raises ValueError with words for the page."""
    words = _folded(text)
    if PLAIN.fullmatch(words):
        return _checked(text, Length(number=float(words)))
    found = CLOCK.fullmatch(words)
    if found:
        return _checked(text, Length(hours=_clock(text, found)))
    parts = PART.findall(words)
    if not parts or "".join("".join(part) for part in parts) != words:
        raise ValueError(f"“{text}” is not a length. {HOW}")
    sums = dict.fromkeys("wdhm", 0.0)
    for number, unit in parts:
        sums[unit[0]] += float(number)
    return _checked(text, Length(0, sums["w"], sums["d"], sums["h"] + sums["m"] / 60))


def unit_words(kind: str) -> str:
    """Say what a kind of job is counted in."""
    if kind in (Kind.OUTSIDE, Kind.ORDER):
        return "the vendor’s working days"
    return {Kind.DECISION: "days", Kind.STAND: "hours standing"}.get(
        Kind(kind), "working hours"
    )


def say_length(amount: float, kind: str) -> str:
    """Say a stored figure: `2 h 30 of work`, `3 days`."""
    if kind in (Kind.OUTSIDE, Kind.ORDER):
        return f"{wording.days(amount)} of the vendor’s"
    if kind == Kind.DECISION:
        return wording.counted(round(amount, 1), "day,days")
    return wording.hours(amount) + (" standing" if kind == Kind.STAND else " of work")


def type_length(amount: float | None, kind: str) -> str:
    """Write a stored figure the way somebody would type it."""
    if amount is None:
        return ""
    if kind in DAYS_KINDS:
        return f"{round(amount, 2):g}d"
    whole, rest = divmod(round(amount * 60), 60)
    return f"{whole}h{rest:02}" if rest else f"{whole}h"


def _folded(text: str) -> str:
    words = "".join(text.casefold().replace("and", "").split()).replace(",", ".")
    for sign, digits in PIECES.items():
        words = re.sub(f"(?<![0-9]){sign}", f"0{digits}", words).replace(sign, digits)
    return words


def _clock(text: str, found: re.Match[str]) -> float:
    if int(found[2]) > 59:
        raise ValueError(f"“{text}” has more than 59 minutes. {HOW}")
    return int(found[1][:9]) + int(found[2]) / 60


def _checked(text: str, length: Length) -> Length:
    if max(length.number, length.weeks, length.days, length.hours) > LONGEST:
        raise ValueError(f"“{text}” is too long to plan with. {HOW}")
    return length
