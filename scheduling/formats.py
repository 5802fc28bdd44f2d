"""How moments, days, spans and opening hours are written in a plan file.

Each reader takes the text and raises ValueError where it is not that; each writer
takes the record back to the text. The text forms are our own, so that a file means
the same under every Python version.
"""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

from holidays.utils import list_supported_countries

from scheduling.plan import Hours, Span

DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
MOMENT = re.compile(rf"{DAY.pattern}T([0-9]{{2}}):([0-9]{{2}})")
HOURS = re.compile(r"([0-9]{2}):([0-9]{2})-([0-9]{2}):([0-9]{2})")
MINUTES_A_DAY = 1440
QUARTER = timedelta(minutes=15)


def _numbers(pattern: re.Pattern[str], text: str) -> list[int]:
    match = pattern.fullmatch(text)
    if match is None:
        raise ValueError(text)
    return [int(number) for number in match.groups()]


def read_day(text: str) -> date:
    """Return the day written ``YYYY-MM-DD``."""
    year, month, day = _numbers(DAY, text)
    return date(year, month, day)


def read_moment(text: str) -> datetime:
    """Return the local moment written ``YYYY-MM-DDTHH:MM``."""
    year, month, day, hour, minute = _numbers(MOMENT, text)
    return datetime(year, month, day, hour, minute)


def read_day_or_moment(text: str) -> datetime:
    """Return a moment; a bare day means its midnight."""
    if "T" in text:
        return read_moment(text)
    return datetime.combine(read_day(text), datetime.min.time())


def read_span(text: str) -> Span:
    """Return the days from ``A/B``, both included, or from one day alone."""
    first, slash, last = text.partition("/")
    span = Span(read_day(first), read_day(last if slash else first))
    if span.first > span.last:
        raise ValueError(text)
    return span


def read_hours(text: str) -> Hours:
    """Return an opening time written ``HH:MM-HH:MM``; 24:00 closes a day."""
    hour, minute, end_hour, end_minute = _numbers(HOURS, text)
    opens, closes = hour * 60 + minute, end_hour * 60 + end_minute
    if max(minute, end_minute) > 59 or not opens < closes <= MINUTES_A_DAY:
        raise ValueError(text)
    return Hours(opens, closes)


def check_time_zone(text: str) -> None:
    """Raise ValueError unless the time-zone database knows the name."""
    if text not in _time_zones():
        raise ValueError(text)


@cache
def _time_zones() -> frozenset[str]:
    return frozenset(available_timezones())


def check_holiday_calendar(text: str) -> None:
    """Raise ValueError unless `holidays` knows ``COUNTRY`` or ``COUNTRY-PART``."""
    country, dash, part = text.partition("-")
    parts = _holiday_countries().get(country)
    if parts is None or (dash and part not in parts):
        raise ValueError(text)


@cache
def _holiday_countries() -> dict[str, list[str]]:
    return dict(list_supported_countries(include_aliases=True))


def this_quarter(timezone: str) -> datetime:
    """Return the present local time, rounded up to the quarter-hour."""
    clock = datetime.now(ZoneInfo(timezone)).replace(tzinfo=None)
    midnight = datetime.combine(clock.date(), datetime.min.time())
    return midnight - (midnight - clock) // QUARTER * QUARTER


def day_text(day: date) -> str:
    """Return ``YYYY-MM-DD``."""
    return date(day.year, day.month, day.day).isoformat()


def moment_text(moment: datetime) -> str:
    """Return ``YYYY-MM-DDTHH:MM``."""
    return moment.replace(tzinfo=None).isoformat(timespec="minutes")


def span_text(span: Span) -> str:
    """Return ``A/B``, or the day alone where both are the same."""
    if span.first == span.last:
        return day_text(span.first)
    return f"{day_text(span.first)}/{day_text(span.last)}"


def hours_text(hours: Hours) -> str:
    """Return ``HH:MM-HH:MM``."""
    return f"{_clock(hours.opens)}-{_clock(hours.closes)}"


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
