"""A calendar's opening hours and spans, as rows keep them and as the engine does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from scheduling.plan import Hours, Span


def _minutes(text: str) -> int:
    hours, minutes = text.split(":")
    return int(hours) * 60 + int(minutes)


def read_hours(texts: Iterable[str]) -> tuple[Hours, ...]:
    """Turn ["08:00-12:15"] into opening times."""
    pairs = (text.split("-") for text in texts)
    return tuple(Hours(_minutes(opens), _minutes(closes)) for opens, closes in pairs)


def write_hours(hours: Iterable[Hours]) -> list[str]:
    """Turn opening times into ["08:00-12:15"]."""
    return [
        f"{one.opens // 60:02}:{one.opens % 60:02}"
        f"-{one.closes // 60:02}:{one.closes % 60:02}"
        for one in hours
    ]


def read_span(text: str) -> Span:
    """Turn "2027-03-26/2027-03-29" into whole days, both included."""
    first, _, last = text.partition("/")
    return Span(date.fromisoformat(first), date.fromisoformat(last or first))


def write_span(span: Span) -> str:
    """Turn whole days into "2027-03-26/2027-03-29"."""
    return f"{span.first.isoformat()}/{span.last.isoformat()}"


def read_week(week: Mapping[str, list[str]]) -> dict[str, tuple[Hours, ...]]:
    """Turn a stored week into opening times by day."""
    return {day: read_hours(texts) for day, texts in week.items()}


def write_week(week: Mapping[str, Iterable[Hours]]) -> dict[str, list[str]]:
    """Turn opening times by day into a stored week."""
    return {day: write_hours(hours) for day, hours in week.items()}
