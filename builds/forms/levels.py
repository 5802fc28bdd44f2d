"""The levels of readiness: their names and their order."""

from __future__ import annotations

from collections.abc import Sequence

from builds.forms.choice import WholeField
from builds.forms.record import Data, RecordForm, Section
from builds.forms.text import LONGEST_WORD, TextField

MOST = 30
ROOM = 2  # empty lines for new levels


class LevelsForm(RecordForm):
    """A name and a place in the order for each level there is, and room for more."""

    def __init__(self, data: Data = None, *, levels: Sequence[str]) -> None:
        super().__init__(data)
        self.levels: list[str | None] = [*levels, *[None] * ROOM]
        rows = []
        for number, level in enumerate(self.levels):
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
            rows.append((f"order-{number}", f"name-{number}"))
        words = "1 is the lowest. A level with no name is taken away."
        self.SECTIONS = (Section("", tuple(rows), words),)  # type: ignore[misc]

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
