"""Opening hours and stretches of days, as people write them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from itertools import pairwise
from typing import Any

from django.core.exceptions import ValidationError

from builds.forms.days import read_day
from builds.forms.text import LinesField
from builds.forms.typed import TypedField

HOW = "Write it like “8:00-12:15, 13:00-16:45”."
CLOCK = r"([0-9]{1,2})(?:[:.]([0-9]{2}))?"
SPAN = re.compile(rf"{CLOCK} ?(?:-|to) ?{CLOCK}")
WITH_HOURS = re.compile(r"(.+?)[ ,:]+([0-9]{1,2}(?:[:.][0-9]{2})? ?(?:-|to) ?.*)")
BETWEEN = re.compile(r" to | - |/")
MOST_LINES = 200


def read_hours(text: str) -> list[str]:
    """Turn `8-12.15, 13 to 16:45` into stored hours; raises ValueError with words."""
    words = text.casefold().replace("–", "-").replace(" and ", ",")
    hours = [_span(one.strip()) for one in words.split(",") if one.strip()]
    for earlier, later in pairwise(hours):
        if later.split("-")[0] < earlier.split("-")[1]:
            raise ValueError(
                f"{say_hours([earlier])} and {say_hours([later])} overlap"
                " or stand in the wrong order."
            )
    return hours


def say_hours(hours: Sequence[str]) -> str:
    """Say stored hours: `08:00 to 12:15 and 13:00 to 16:45`."""
    return " and ".join(one.replace("-", " to ") for one in hours)


def _span(text: str) -> str:
    found = SPAN.fullmatch(text)
    if not found:
        raise ValueError(f"“{text}” are not hours. {HOW}")
    opens, closes = _clock(*found.groups()[:2]), _clock(*found.groups()[2:])
    if closes <= opens:
        raise ValueError(f"{opens} to {closes} closes before it opens. {HOW}")
    return f"{opens}-{closes}"


def _clock(hour: str, minute: str | None) -> str:
    minutes = int(hour) * 60 + int(minute or 0)
    if int(minute or 0) > 59 or minutes > 24 * 60:
        raise ValueError(f"There is no {hour}:{minute or '00'} on a clock. {HOW}")
    return f"{minutes // 60:02}:{minutes % 60:02}"


class HoursField(TypedField):
    """The opening hours of one day; empty is shut."""

    reads = "hours"

    def read(self, text: str) -> list[str]:
        return read_hours(text)

    def say(self, value: list[str]) -> str:
        return say_hours(value)

    def prepare_value(self, value: Any) -> Any:
        """Write stored hours the way somebody would type them."""
        return ", ".join(value) if isinstance(value, list) else value


class DaysField(LinesField):
    """Days in lines; `now` is the clock on the workshop's wall."""

    now: datetime | None = None

    def clean(self, value: Any) -> Any:
        """Read line by line, and name the line that cannot be read."""
        lines = [one.strip() for one in super().clean(value).splitlines()]
        if len(lines) > MOST_LINES:
            raise ValidationError(f"Write no more than {MOST_LINES} lines.")
        return self.gather([self._line(one) for one in lines if one])

    def _line(self, line: str) -> Any:
        try:
            return self.read_line(line, (self.now or datetime.now()).date())
        except (ValueError, OverflowError) as error:
            raise ValidationError(f"“{line[:60]}”: {error}") from error

    def read_line(self, line: str, today: date) -> Any:
        """Turn one line into a value, or raise ValueError."""
        raise NotImplementedError

    def gather(self, values: Sequence[Any]) -> Any:
        """Turn the values of the lines into what is stored."""
        raise NotImplementedError


class ShutDaysField(DaysField):
    """Stretches of whole days: `24 dec to 2 jan`, or one day alone."""

    def read_line(self, line: str, today: date) -> str:
        first, *rest = BETWEEN.split(line.casefold(), maxsplit=1)
        begins = read_day(first, today)
        ends = read_day(rest[0], begins) if rest else begins
        if ends < begins:
            raise ValueError("the last day is before the first.")
        return f"{begins.isoformat()}/{ends.isoformat()}"

    def gather(self, values: Sequence[str]) -> list[str]:
        return list(values)

    def prepare_value(self, value: Any) -> Any:
        """Write stored stretches the way somebody would type them."""
        return (
            "\n".join(map(_typed_stretch, value)) if isinstance(value, list) else value
        )


class ExtraDaysField(DaysField):
    """Days that are open although the week says otherwise: `22 may 8:00-13:00`."""

    def read_line(self, line: str, today: date) -> tuple[str, list[str]]:
        found = WITH_HOURS.fullmatch(line.casefold())
        if not found:
            raise ValueError("write the day and its hours, as in “22 may 8:00-13:00”.")
        return read_day(found[1], today).isoformat(), read_hours(found[2])

    def gather(self, values: Sequence[tuple[str, list[str]]]) -> dict[str, list[str]]:
        found = dict(values)
        if len(found) < len(values):
            raise ValidationError("A day is there twice. Put its hours on one line.")
        return found

    def prepare_value(self, value: Any) -> Any:
        """Write stored days the way somebody would type them."""
        if not isinstance(value, Mapping):
            return value
        return "\n".join(
            f"{_typed(day)} {', '.join(hours)}" for day, hours in value.items()
        )


def _typed(day: str) -> str:
    at = date.fromisoformat(day)
    return f"{at.day} {at:%b %Y}".lower()


def _typed_stretch(text: str) -> str:
    first, _, last = text.partition("/")
    if not last or first == last:
        return _typed(first)
    return f"{_typed(first)} to {_typed(last)}"
