"""Opening times in minutes since the first midnight, and walking through them."""

from __future__ import annotations

from bisect import bisect_right
from datetime import date, datetime, time, timedelta
from typing import Any

Row = dict[str, Any]

DAY = 1440
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAYS_AHEAD = 1100
TINY = 1e-6


class Opening:
    """When somebody or something is there: sorted spans of minutes."""

    def __init__(self, first: date, calendar: Row, closed: list[str]) -> None:
        shut = [_span(one) for one in [*calendar.get("closed", []), *closed]]
        self.days: list[tuple[int, list[tuple[float, float]]]] = []
        for number in range(DAYS_AHEAD):
            day = first + timedelta(days=number)
            hours = calendar["week"].get(WEEKDAYS[day.weekday()], [])
            if hours and not any(begin <= day <= end for begin, end in shut):
                spans = [_minutes(number, text) for text in hours]
                self.days.append((number, spans))
        self.spans = [span for _, spans in self.days for span in spans]
        self._starts = [begin for begin, _ in self.spans]
        self._numbers = [number for number, _ in self.days]

    def open_until(self, moment: float) -> float | None:
        """Return the end of the span a moment lies in; None when shut."""
        place = bisect_right(self._starts, moment + TINY) - 1
        if place >= 0 and moment < self.spans[place][1] - TINY:
            return self.spans[place][1]
        return None

    def next_opening(self, moment: float) -> float:
        """Return the next start of a span after a moment."""
        return self._starts[bisect_right(self._starts, moment + TINY)]

    def after_days(self, moment: float, count: float) -> float:
        """Return the moment `count` working days later; a day is shared by its hours.

        A quarter of an eight-hour day is two hours of it.
        """
        left = count
        for _, spans in self.days[max(0, self._place(moment)) :]:
            if spans[-1][1] <= moment:
                continue
            whole = sum(end - begin for begin, end in spans)
            for begin, end in spans:
                begin = max(begin, moment)
                share = max(end - begin, 0.0) / whole
                if share and left <= share + 1e-12:
                    return begin + left * whole
                left -= share
        raise ValueError("Past the written days.")

    def _place(self, moment: float) -> int:
        return bisect_right(self._numbers, int(moment // DAY)) - 1

    def day_after(self, moment: float, count: int) -> int:
        """Return the number of the `count`-th working day after that of a moment."""
        return self._numbers[self._place(moment) + count]


def _span(text: str) -> tuple[date, date]:
    first, _, last = text.partition("/")
    return date.fromisoformat(first), date.fromisoformat(last or first)


def _minutes(day: int, text: str) -> tuple[float, float]:
    begin, end = (time.fromisoformat(one) for one in text.split("-"))
    at = day * DAY
    return at + begin.hour * 60.0 + begin.minute, at + end.hour * 60.0 + end.minute


class Diary:
    """Minutes since the first midnight as the plan file writes them, and back."""

    def __init__(self, first: date) -> None:
        self._midnight = datetime.combine(first, time())

    def text(self, moment: float) -> str:
        """Return a moment as YYYY-MM-DDTHH:MM."""
        at = self._midnight + timedelta(minutes=round(moment))
        return at.isoformat(timespec="minutes")

    def day(self, moment: float) -> str:
        """Return the date of a moment."""
        return self.text(moment // 1 if moment >= 0 else 0)[:10]

    def minutes(self, text: str) -> float:
        """Return the minutes of a written moment."""
        return (datetime.fromisoformat(text) - self._midnight).total_seconds() / 60.0
