"""Fields that read a sheet's cells: yes and no, one of some words, spans of days."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from builds.forms import days
from builds.forms.choice import RowField, WordChoice
from builds.models import Found, Kind, State
from builds.selectors.sheet_names import fold

YES = ("yes", "y", "x", "true", "1", "✓", "ja", "oui")
NO = ("no", "n", "false", "0", "-", "–", "nein", "non")
STATES = {
    **{one.value: one.value for one in State},
    **dict.fromkeys(YES, State.DONE),
    **dict.fromkeys(("finished", "complete", "completed"), State.DONE),
    **dict.fromkeys((*NO, "not started", "to do"), State.OPEN),
    **dict.fromkeys(("started", "begun", "in hand"), State.UNDER_WAY),
    "": State.OPEN,
}
KINDS = {one.value: one.value for one in Kind} | {"": Kind.BENCH.value}
FOUND = {"": "", **{one.value: one.value for one in Found}}
TRADE = re.compile(
    r"(?P<trade>.*?)(?: +(?P<level>[123]))?(?: +pace +(?P<pace>[\d.,]+))?"
)
SPAN = re.compile(r"(.+?)(?: +to +| *[/–] *| +- +)(.+)")
ISO = re.compile(r"\d{4}-\d\d-\d\d")


class YesNoField(forms.BooleanField):
    """Yes or no, as people write it; nothing written is what it usually is."""

    widget = forms.TextInput

    def __init__(self, *, usual: bool = False) -> None:
        self.usual = usual
        super().__init__(required=False)

    def clean(self, value: Any) -> bool:
        """Read it."""
        words = fold(str(value or ""))
        if not words:
            return self.usual
        if words in YES or words in NO:
            return words in YES
        raise ValidationError("Write yes or no.")


class PickField(forms.ChoiceField):
    """One of some words, whatever its capitals."""

    def __init__(self, words: Mapping[str, str]) -> None:
        self.words = words
        super().__init__(required=False)

    def clean(self, value: Any) -> str:
        """Give the word that is kept."""
        picked = self.words.get(fold(str(value or "")))
        if picked is None:
            listed = ", ".join(dict.fromkeys(filter(None, self.words.values())))
            raise ValidationError(f"Write one of: {listed}.")
        return str(picked)


class GivenRow(RowField):
    """The key of a row that has been found already, or of one to be added."""

    def clean(self, value: Any) -> str | None:
        """Give the key as it is."""
        return value or None


class SpelledChoice(WordChoice):
    """Words on a list, whatever their capitals."""

    def spelled(self) -> dict[str, str]:
        """Give the words as they are spelled on the list."""
        return {"": ""} | {fold(word): word for word in self.words}


class AnyWord(SpelledChoice):
    """One of the words on the list in its spelling, or a new one."""

    def clean(self, value: Any) -> str | None:
        """Give the word, or None."""
        typed = " ".join(str(value or "").split())
        if len(typed) > 100:
            raise ValidationError("Write no more than 100 letters.")
        return self.spelled().get(fold(typed), typed) or None


class ListedWord(SpelledChoice):
    """One of the words on the list, whatever its capitals."""

    def clean(self, value: Any) -> str | None:
        """Give the word, or None; raises ValidationError for another."""
        known = self.spelled()
        found = known.get(fold(str(value or "")))
        if found is None:
            listed = ", ".join(filter(None, known.values()))
            raise ValidationError(f"Write one of: {listed}.")
        return found or None


def split(cell: str, *, commas: bool = False) -> list[str]:
    """Give the parts of a cell that holds several things."""
    parts = re.split("[;\n]", cell)
    if commas and len(parts) == 1:
        parts = cell.split(",")
    return [part.strip() for part in parts if part.strip()]


def read_trades(cell: str) -> list[tuple[str, int | None, float | None]]:
    """Read `panel 3; paint 2 pace 0.8`; raises ValueError."""
    found: dict[str, tuple[str, int | None, float | None]] = {}
    for part in split(cell, commas=True):
        match = TRADE.fullmatch(part)
        if match is None or not match["trade"]:
            raise ValueError(f"“{part}” is not a trade. Write it like “panel 3”.")
        trade, level, pace = match["trade"], match["level"], match["pace"]
        if trade in found:
            raise ValueError(f"“{trade}” is there twice.")
        found[trade] = (
            trade,
            int(level or 2) if level or pace is None else None,
            _pace(pace) if pace else None,
        )
    return list(found.values())


def read_spans(cell: str, today: date) -> list[tuple[date, date]]:
    """Read `2027-01-04 to 2027-01-08; 1 feb`; raises ValueError."""
    found = []
    for part in split(cell):
        ends = SPAN.fullmatch(part) if not ISO.fullmatch(part) else None
        first = days.read_day(ends[1] if ends else part, today)
        last = days.read_day(ends[2], today) if ends else first
        if last < first:
            raise ValueError(f"“{part}” ends before it begins.")
        found.append((first, last))
    return found


def _pace(words: str) -> float:
    try:
        pace = float(words.replace(",", "."))
    except ValueError:
        pace = 0.0
    if not 0 < pace <= 100:
        raise ValueError("A pace is a number above nought: 1 is the usual one.")
    return pace
