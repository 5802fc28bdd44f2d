"""What a technician says about a job, with dirty hands and few words."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.text import LinesField
from builds.forms.typed import DurationField
from builds.models import Job

LEFT, DONE = "left", "done"
HURT = "Somebody was hurt, or nearly"
TROUBLES = (
    "A part is missing",
    "A part is wrong",
    "It does not fit",
    "Found more than was expected",
    "The tool or the place is taken",
    "It needs a second person",
    "Waiting for an answer",
    HURT,
)
A_DAY = 8.0  # hours, for somebody who writes "1d"


def _words(label: str) -> LinesField:
    area = forms.Textarea(attrs={"rows": 3})
    return LinesField(label=label, required=False, widget=area)


class StopForm(forms.Form):
    how = forms.ChoiceField(
        label="How is it left?",
        choices=((LEFT, "Not done"), (DONE, "Done")),
        widget=forms.RadioSelect,
        error_messages={"required": "Say whether it is done."},
    )
    left = DurationField(
        label="How much is left",
        required=False,
        help_text="2h30, 45m or 1.5. Leave it empty when it is done.",
    )
    words = _words("Words for whoever goes on with it")

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or {}
        if "left" in given and given.get("how") == LEFT and given["left"] is None:
            self.add_error("left", "Say how much is left, for instance 2h30.")
        if given.get("how") == DONE and given.get("left"):
            self.add_error("left", "It is done, so nothing is left. Empty this line.")
        return given

    def hours_left(self, job: Job) -> float:
        """Give what is left in hours, to the quarter the plan counts in."""
        hours: float = self.cleaned_data["left"].for_kind(job.kind, A_DAY)
        return round(hours * 4) / 4


class TroubleForm(forms.Form):
    reason = forms.ChoiceField(
        label="What is wrong?",
        choices=[(one, one) for one in TROUBLES],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what comes nearest."},
    )
    words = _words("In your own words")


class CountForm(forms.Form):
    back = forms.IntegerField(
        label="Pieces back, all told",
        min_value=0,
        max_value=100_000,
        help_text="Count what is in the box, not what is on the note.",
    )
    noted = forms.IntegerField(
        label="Pieces on their note", min_value=0, max_value=100_000, required=False
    )
    words = _words("What you saw")
