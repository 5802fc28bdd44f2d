"""Dates, hours and odds in the words of the trade."""

from __future__ import annotations

from datetime import date, datetime
from math import floor

When = date | datetime | str | None

# The bounds between the words are those of the IPCC's guidance note on the
# consistent treatment of uncertainties (Mastrandrea and others, 2010, table 1):
# very likely from 90, likely from 66, about as likely as not from 33, very
# unlikely below 10. The words are our own.
ODDS_WORDS = (
    (90, "very likely"),
    (66, "likely"),
    (33, "even"),
    (10, "doubtful"),
    (0, "remote"),
)


def read_when(when: When) -> date | datetime | None:
    """Take a date, a moment, or the text of either; nothing stays nothing."""
    if not isinstance(when, str):
        return when
    if not when:
        return None
    return datetime.fromisoformat(when) if "T" in when else date.fromisoformat(when)


def day(when: When) -> str:
    """Say a day: `Fri 14 May`."""
    at = read_when(when)
    return f"{at:%a} {at.day} {at:%b}" if at else "no date"


def day_year(when: When) -> str:
    """Say a day with its year: `Fri 14 May 2027`."""
    at = read_when(when)
    return f"{day(at)} {at.year}" if at else "no date"


def clock(when: When) -> str:
    """Say the time of day: `16:00`; a whole day has none."""
    at = read_when(when)
    return f"{at:%H:%M}" if isinstance(at, datetime) else ""


def moment(when: When) -> str:
    """Say a day and the time of day: `Fri 14 May, 16:00`."""
    at = read_when(when)
    return f"{day(at)}, {clock(at)}" if isinstance(at, datetime) else day(at)


def day_range(first: When, last: When) -> str:
    """Say a stretch of days: `3 to 18 June`, `28 May to 3 June`."""
    start, end = read_when(first), read_when(last)
    if start is None or end is None:
        return day(start or end)
    if (start.year, start.month, start.day) == (end.year, end.month, end.day):
        return f"{end.day} {end:%B}"
    if start.year != end.year:
        return f"{start.day} {start:%B %Y} to {end.day} {end:%B %Y}"
    if start.month != end.month:
        return f"{start.day} {start:%B} to {end.day} {end:%B}"
    return f"{start.day} to {end.day} {end:%B}"


def short_range(first: When, last: When) -> str:
    """Say a stretch of days where there is little room: `17 Jan to 3 Feb`."""
    start, end = read_when(first), read_when(last)
    if start is None or end is None:
        return day(start or end)
    ends = f"{end.day} {end:%b}"
    begins = f"{start.day} {start:%b}"
    return ends if begins == ends else f"{begins} to {ends}"


def counted(number: float, words: str) -> str:
    """Say how many: `1 job`, `3 jobs`, from the words `job,jobs`."""
    one, many = words.split(",")
    return f"{number:g} {one if number == 1 else many}"


def hours(amount: float | None) -> str:
    """Say a length of work: `2 h 30`, `45 min`."""
    if amount is None:
        return "not estimated"
    minutes = round(amount * 60)
    whole, rest = divmod(minutes, 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest:02}" if rest else f"{whole} h"


def whole_hours(amount: float) -> int:
    """Round hours to whole ones, half an hour up, where minutes would be too much."""
    return floor(round(amount, 6) + 0.5)


def days(amount: float) -> str:
    """Say a number of working days."""
    return counted(round(amount, 1), "working day,working days")


def in_hand(amount: float | None) -> str:
    """Say how far a job can slip before the show is missed."""
    if amount is None:
        return "no show to be ready for"
    if round(amount, 1) == 0:
        return "nothing in hand"
    if amount < 0:
        return f"{days(-amount)} late"
    return f"{days(amount)} in hand"


def hundredths(chance: float) -> int:
    """Round a chance to whole hundredths, as it is shown and worded."""
    return min(100, max(0, round(chance * 100)))


def in_100(chance: float | None) -> str:
    """Say a chance: `74 in 100`; never that a thing is sure when it is not."""
    if chance is None:
        return "not known"
    if 0.995 <= chance < 1:
        return "over 99 in 100"
    if 0 < chance < 0.005:
        return "under 1 in 100"
    return f"{hundredths(chance)} in 100"


def odds_word(chance: float | None) -> str:
    """Give the word for a chance."""
    if chance is None:
        return "not known"
    shown = hundredths(chance)
    return next(word for bound, word in ODDS_WORDS if shown >= bound)
