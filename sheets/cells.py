"""A cell's value as somebody would type it."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

MINUTE = timedelta(minutes=1)


def to_text(value: object) -> str:
    """Write a value as words: days as 2027-05-15, lengths of time as 2h30."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    if isinstance(value, timedelta):
        hours, minutes = divmod(round(value / MINUTE), 60)
        return f"{hours}h{minutes:02}"
    return _moment(value).strip()


def _moment(value: object) -> str:
    if isinstance(value, datetime):
        if value.time() == time():
            return value.date().isoformat()
        return value.isoformat(sep=" ", timespec="minutes")
    if isinstance(value, time):
        return value.isoformat(timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    return str(value)
