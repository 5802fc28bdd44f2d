"""The levels of readiness: their names and their order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from builds.forms.choice import WholeField
from builds.forms.record import Data, Section, VersionIfKnownForm
from builds.forms.text import LONGEST_WORD, TextField

MOST = 30
ROOM = 2  # empty lines for new levels
KEY = "levels"


class LevelsForm(VersionIfKnownForm):
    """A name and a place in the order for each level there is, and room for more.

    What each was called on the page goes with it: another one may have renamed them
    meanwhile.
    """

    def __init__(
        self, data: Data = None, *, levels: Sequence[str], version: int
    ) -> None:
        super().__init__(data, initial={"version": version})
        self.levels = _on_the_page(data, levels)
        rows = []
        for number, level in enumerate(self.levels):
            self._add(number, level)
            rows.append((f"order-{number}", f"name-{number}"))
        words = "1 is the lowest. A level with no name is taken away."
        self.SECTIONS = (Section("", tuple(rows), words),)  # type: ignore[misc]

    def _add(self, number: int, level: str | None) -> None:
        new = " of a new level" if level is None else f" of “{level}”"
        self.fields[f"order-{number}"] = WholeField(
            label=f"Order{new}",
            least=1,
            most=MOST,
            initial=number + 1,
            required=level is not None,
        )
        self.fields[f"name-{number}"] = TextField(
            label=f"Name{new}", longest=LONGEST_WORD, required=False, initial=level
        )
        self.fields[f"was-{number}"] = forms.CharField(
            required=False, initial=level or "", widget=forms.HiddenInput()
        )

    def named(self) -> list[tuple[str | None, str]]:
        """Give what each level was called and is called now, lowest first."""
        rows = [
            (self.cleaned_data[f"order-{number}"] or MOST, number)
            for number in range(len(self.levels))
            if self.cleaned_data[f"name-{number}"]
        ]
        return [
            (self.levels[number], self.cleaned_data[f"name-{number}"])
            for _, number in sorted(rows)
        ]

    def keeps_theirs(self) -> bool:
        """Say whether, of two people’s levels, the other one’s are to stand."""
        return self.data.get(f"keep-{KEY}") == "theirs"

    def _label(self, name: str) -> str:
        return "Levels, the lowest first"

    def _say(self, name: str, value: Any) -> str:
        return ", ".join(value)


def _on_the_page(data: Data, levels: Sequence[str]) -> list[str | None]:
    """Give the levels as they were on the page that was sent, or as they are."""
    if data is None or "was-0" not in data:
        return [*levels, *[None] * ROOM]
    rows = range(MOST + ROOM)
    return [data[f"was-{n}"] or None for n in rows if f"was-{n}" in data]
