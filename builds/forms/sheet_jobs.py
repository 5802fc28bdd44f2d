"""A row of a sheet as a job: the same rules as for a job typed into its form."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import time
from typing import Any

from builds.forms import lengths
from builds.forms.choice import WholeField
from builds.forms.jobs import LENGTHS, JobForm
from builds.forms.sheet_fields import (
    FOUND,
    KINDS,
    STATES,
    AnyWord,
    GivenRow,
    ListedWord,
    PickField,
    YesNoField,
)
from builds.forms.text import TextField
from builds.forms.typed import DayField, DurationField, MomentField
from builds.models import State
from builds.selectors.job_form import JobChoices
from builds.selectors.sheet_names import fold

OVER = (State.DONE, State.LEFT_OUT)


class JobRowForm(JobForm):
    """One form for all rows, one after the other: `take` gives it the next."""

    ROW = (
        *JobForm.ROW,
        "state", "started", "finished", "remaining", "sent", "promised",
        "pieces_back", "pieces_noted", "holder",
    )  # fmt: skip

    vendor = GivenRow(label="Vendor", required=False)
    kind = PickField(KINDS)
    trade = AnyWord(label="Trade", required=False)
    level = ListedWord(label="Needed to be", required=False)
    found = PickField(FOUND)
    fixed = YesNoField()
    slot = YesNoField(usual=True)
    visible = YesNoField()
    commitment = YesNoField()
    unbroken = YesNoField()
    safety = YesNoField()
    snag = YesNoField()
    people = WholeField(least=1, most=100, required=False)
    not_before = MomentField(default=time(0, 0), required=False)
    state = PickField(STATES)
    started = MomentField(default=time(8, 0), required=False)
    finished = MomentField(default=time(17, 0), required=False)
    remaining = DurationField(required=False)
    sent = DayField(required=False)
    promised = DayField(required=False)
    pieces_back = WholeField(required=False)
    pieces_noted = WholeField(required=False)
    holder = TextField(required=False)

    def __init__(self, *, choices: JobChoices) -> None:
        self.choices = choices
        super().__init__({}, choices=choices)

    def take(self, cells: Mapping[str, str]) -> bool:
        """Read the next row; say whether it is sound."""
        kind = KINDS.get(fold(cells.get("kind", "")), cells.get("kind", ""))
        self.data = {**cells, "kind": kind}
        self._tell_lengths_the_kind(self.choices.day_hours)
        self.full_clean()
        return not self.errors

    def _tell_lengths_the_kind(self, day_hours: float) -> None:
        super()._tell_lengths_the_kind(day_hours)
        left = self.fields["remaining"]
        assert isinstance(left, DurationField)
        left.kind, left.day_hours = self.chosen_kind, day_hours

    def clean(self) -> dict[str, Any]:
        """Turn all lengths into the unit of the kind; what is over needs none."""
        cleaned = super().clean()
        if isinstance(cleaned.get("remaining"), lengths.Length):
            self._convert(cleaned, "remaining")
        cleaned["people"] = cleaned.get("people") or 1
        cleaned["pieces_back"] = cleaned.get("pieces_back") or 0
        if cleaned.get("state") in OVER and not self.data.get("likely"):
            self.errors.pop("likely", None)
            cleaned.update(dict.fromkeys(LENGTHS, None))
        return cleaned

    def _convert(self, cleaned: dict[str, Any], name: str) -> None:
        if cleaned[name].bare:
            cleaned[name] = cleaned[name].number
        else:
            super()._convert(cleaned, name)
