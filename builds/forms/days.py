"""Read a day or a moment as people write it: `fri`, `15 may`, `15/5/27`, `tomorrow`."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime, time, timedelta

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MONTHS = (
    "jan", "feb", "mar", "apr", "may", "jun",
    "jul", "aug", "sep", "oct", "nov", "dec",
)  # fmt: skip
FIRST_YEAR, LAST_YEAR = 1970, 2199
NEAR = {"yesterday": -1, "today": 0, "tod": 0, "tomorrow": 1, "tom": 1}
HOW = "Write it like “fri”, “15 may”, “15/5/27”, “tomorrow” or “2027-05-15”."
TIME_HOW = "Write the time like “16:00” or “4pm”."
WEEKDAY = re.compile(r"(next )?(mon|tue|wed|thu|fri|sat|sun)[a-z]*")
AHEAD = re.compile(r"(?:in |\+)([0-9]{1,4}) ?(d|days?|w|weeks?)?")
ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
NUMBERS = re.compile(r"([0-9]{1,2})[/. -]([0-9]{1,2})(?:[/. -]([0-9]{4}|[0-9]{2}))?")
YEAR = r"(?:,? ?([0-9]{4}|[0-9]{2}))?"
DAY_MONTH = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th)? ?(?:of )?([a-z]{3,9})" + YEAR)
MONTH_DAY = re.compile(r"([a-z]{3,9}) ?([0-9]{1,2})(?:st|nd|rd|th)?(?:,? ([0-9]{4}))?")
AT = re.compile(
    r"(?P<day>.*?)(?:[ ,]+at |[ ,]+|(?<=[0-9])t)"
    r"(?:(?P<hour>[0-9]{1,2})(?:[:.](?P<minute>[0-9]{2}))(?::00)? ?(?P<half>am|pm)?"
    r"|(?P<alone>[0-9]{1,2}) ?(?P<half2>am|pm)|(?P<noon>noon|midday))"
)


def read_day(text: str, today: date) -> date:
    """Turn what was typed into a day; raises ValueError with words for the page."""
    words = _folded(text)
    if words in NEAR:
        return today + timedelta(NEAR[words])
    for pattern, take in READERS:
        found = pattern.fullmatch(words)
        if found:
            return take([one or "" for one in found.groups()], today)
    raise ValueError(f"“{text}” is not a day. {HOW}")


def read_moment(text: str, today: date, default: time | None = None) -> datetime:
    """Turn what was typed into a day and a time; `default` is the time if none is."""
    words = _folded(text)
    found = AT.fullmatch(words)
    if found and not NUMBERS.fullmatch(words):
        return datetime.combine(read_day(found["day"], today), _time(found))
    day_only = read_day(text, today)
    if default is None:
        raise ValueError(f"Which time on that day? {TIME_HOW}")
    return datetime.combine(day_only, default)


def _folded(text: str) -> str:
    return " ".join(text.casefold().split()).replace("–", "-").rstrip(" .")


def _weekday(groups: list[str], today: date) -> date:
    ahead = (DAYS.index(groups[1]) - today.weekday()) % 7
    if not groups[0]:
        return today + timedelta(ahead)
    monday = today + timedelta(7 - today.weekday())
    return monday + timedelta(DAYS.index(groups[1]))


def _ahead(groups: list[str], today: date) -> date:
    days = int(groups[0]) * (7 if groups[1].startswith("w") else 1)
    return today + timedelta(days)


def _iso(groups: list[str], _today: date) -> date:
    return _day(int(groups[2]), int(groups[1]), int(groups[0]))


def _numbers(groups: list[str], today: date) -> date:
    return _coming(int(groups[0]), int(groups[1]), groups[2], today)


def _day_month(groups: list[str], today: date) -> date:
    return _coming(int(groups[0]), _month(groups[1]), groups[2], today)


def _month_day(groups: list[str], today: date) -> date:
    return _coming(int(groups[1]), _month(groups[0]), groups[2], today)


READERS: tuple[tuple[re.Pattern[str], Callable[[list[str], date], date]], ...] = (
    (ISO, _iso),
    (NUMBERS, _numbers),
    (WEEKDAY, _weekday),
    (AHEAD, _ahead),
    (DAY_MONTH, _day_month),
    (MONTH_DAY, _month_day),
)


def _month(word: str) -> int:
    if word[:3] not in MONTHS:
        raise ValueError(f"There is no month “{word}”. {HOW}")
    return MONTHS.index(word[:3]) + 1


def _coming(day: int, month: int, year: str, today: date) -> date:
    """Give that day; without a year the next one, today included."""
    if year:
        return _day(day, month, int(year) + (2000 if len(year) == 2 else 0))
    if (day, month) == (29, 2):
        leap = next(y for y in range(today.year, today.year + 9) if _is_leap(y))
        passed = _day(29, 2, leap) < today
        return _day(29, 2, leap + 4 if passed else leap)
    this_year = _day(day, month, today.year)
    return this_year if this_year >= today else _day(day, month, today.year + 1)


def _is_leap(year: int) -> bool:
    return (year % 4 == 0 and year % 100 != 0) or year % 400 == 0


def _day(day: int, month: int, year: int) -> date:
    if not 1 <= month <= 12:
        raise ValueError(f"There is no month {month}. Write the day first: “15/5/27”.")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"{year} is too far away. Check the year.")
    try:
        return date(year, month, day)
    except ValueError:
        name = f"{date(year, month, 1):%B}"
        raise ValueError(f"There is no {day} {name} {year}.") from None


def _time(found: re.Match[str]) -> time:
    if found["noon"]:
        return time(12)
    hour, minute = int(found["hour"] or found["alone"]), int(found["minute"] or 0)
    half = found["half"] or found["half2"]
    if half and not 1 <= hour <= 12:
        raise ValueError(f"{hour} {half} is not a time. {TIME_HOW}")
    if half:
        hour = hour % 12 + (12 if half == "pm" else 0)
    if hour > 23 or minute > 59:
        raise ValueError(f"{hour}:{minute:02} is not a time. {TIME_HOW}")
    return time(hour, minute)
