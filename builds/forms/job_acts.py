"""What the lead says about a job, one small form for each act."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.choice import WholeField
from builds.forms.record import RecordForm
from builds.forms.technician import TROUBLES
from builds.forms.text import LinesField, TextField
from builds.forms.typed import DayField, DurationField
from builds.models import Job

USUAL_DAY = 8.0  # hours, for somebody who writes "1d"


def _words(label: str) -> LinesField:
    area = forms.Textarea(attrs={"rows": 2})
    return LinesField(label=label, required=False, widget=area)


class WordsForm(RecordForm):
    """Nothing but a word about it, or none."""

    words = _words("A word about it")


class StopForm(RecordForm):
    left = DurationField(
        label="How much is left",
        help_text="2h30, 45m or 1.5",
        error_messages={"required": "Say how much is left, for instance 2h30."},
    )
    words = _words("Words for whoever goes on with it")

    def hours_left(self, job: Job) -> float:
        """Give what is left in hours, to the quarter the plan counts in."""
        hours: float = self.cleaned_data["left"].for_kind(job.kind, USUAL_DAY)
        return round(hours * 4) / 4


class TroubleForm(RecordForm):
    reason = forms.ChoiceField(
        label="What is wrong?",
        choices=[(one, one) for one in TROUBLES],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what comes nearest."},
    )
    words = _words("In your own words")


class PromiseForm(RecordForm):
    promised = DayField(
        label="Promised for",
        required=False,
        help_text="fri, 15 may, 15/5/27 or tomorrow",
    )
    no_date = forms.BooleanField(label="They would give no date", required=False)
    said = _words("What was said, and by whom")

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        if "promised" not in given:
            return given
        if given["promised"] is None and not given["no_date"]:
            self.add_error("promised", "Write the date, or tick that there is none.")
        elif given["promised"] is not None and given["no_date"]:
            self.add_error("no_date", "There is a date above. Keep one of the two.")
        return given


class ChoiceForm(RecordForm):
    choice = TextField(
        label="What the customer chose",
        error_messages={"required": "Write what was chosen."},
    )
    words = _words("What was said, and by whom")


class FoundForm(RecordForm):
    answer = forms.ChoiceField(
        label="What the customer said",
        choices=(("yes", "Yes, do it"), ("no", "No, leave it out")),
        widget=forms.RadioSelect,
        error_messages={"required": "Say yes or no."},
    )
    words = _words("In their words")


class SendForm(RecordForm):
    sent = DayField(
        label="Left on", required=False, help_text="Empty: today. Or fri, 15 may."
    )
    pieces = WholeField(label="Pieces sent", required=False, least=1)
    words = _words("What went with it")


class CountForm(RecordForm):
    back = WholeField(
        label="Pieces back, all told",
        help_text="Count what is in the box, not what is on the note.",
    )
    noted = WholeField(label="Pieces on their note", required=False)
    words = _words("What you saw")
