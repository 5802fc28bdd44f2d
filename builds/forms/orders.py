"""What the supplier said of an order, what came, and what was robbed for it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from builds.forms.calls import NOTHING, PromisedDayField
from builds.forms.choice import NOT_THERE, RowField, WholeField
from builds.forms.record import RecordForm
from builds.forms.text import LinesField
from builds.forms.typed import DayField, DurationField
from builds.models import Build, Job

DAY = "fri, 15 may or tomorrow"


def _words(label: str) -> LinesField:
    area = forms.Textarea(attrs={"rows": 2})
    return LinesField(label=label, required=False, widget=area)


class AcknowledgedForm(RecordForm):
    day = DayField(label="Acknowledged on", required=False, help_text="Empty: today.")
    promised = DayField(label="Promised for", required=False, help_text=DAY)


class BackOrderForm(RecordForm):
    promised = PromisedDayField(
        label="Expected on",
        required=False,
        help_text=f"{DAY}. “Any day now” is kept as no date.",
    )
    said = _words("What they said")

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        if given.get("promised") == NOTHING:
            given["said"] = given.get("said") or str(self["promised"].value())
            given["promised"] = None
        return given


class ReceivedForm(RecordForm):
    good = WholeField(label="Good, all told", help_text="Count what is in the box.")
    wrong = WholeField(label="Wrong, to go back", required=False)
    words = _words("What is wrong with them")

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        given["wrong"] = given.get("wrong") or 0
        return given


class RobForm(RecordForm):
    """Which car a part is taken from, and what must wait there until it is back."""

    donor = RowField(
        label="Taken from",
        nothing="choose a car",
        widget=forms.Select,
    )
    hours = DurationField(
        label="Putting it back takes",
        help_text="2h30, 45m or 1.5",
        error_messages={"required": "Say how long putting it back takes."},
    )
    first = forms.MultipleChoiceField(
        label="What waits there until it is back",
        required=False,
        help_text="Only jobs of the car it is taken from.",
        error_messages={"invalid_choice": NOT_THERE},
        widget=forms.SelectMultiple(attrs={"size": 8}),
    )
    words = _words("Why, and what to look out for")

    def __init__(
        self,
        *args: Any,
        donors: Iterable[Build],
        jobs: Iterable[Job],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        donor = self.fields["donor"]
        assert isinstance(donor, RowField)
        donor.offer(donors)
        self.rows = {job.key: job for job in jobs}
        first = self.fields["first"]
        assert isinstance(first, forms.MultipleChoiceField)
        first.choices = [(key, f"{job.build}: {job}") for key, job in self.rows.items()]

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        given["first"] = [self.rows[key] for key in given.get("first", ())]
        if "hours" in given:
            given["hours"] = given["hours"].for_kind("bench", 8.0)
        return given
