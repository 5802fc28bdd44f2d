"""One call to a vendor: what was asked, what was said, by whom, and the new date."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from django import forms

from builds.forms.choice import WholeField
from builds.forms.record import RecordForm
from builds.forms.text import LinesField, TextField
from builds.forms.typed import DayField

# What people say in place of a day; it is kept as said, and as no date.
NO_DAY = re.compile(
    r"(any (day|time|minute|moment)( now)?|(very )?soon(ish)?|shortly|no date"
    r"|when it.?s (ready|done)|(they )?(don.?t|do not) know|not sure|unknown"
    r"|(in )?(the )?next few days|in a (bit|while)|nearly (done|there))[.!]?"
)
NOTHING = date.min


class PromisedDayField(DayField):
    """A day, or words that sound like one and are not."""

    reads = "promised"

    def read(self, text: str) -> date:
        if NO_DAY.fullmatch(" ".join(text.casefold().split())):
            return NOTHING
        return super().read(text)

    def say(self, value: date) -> str:
        return "no date" if value == NOTHING else super().say(value)


class CallForm(RecordForm):
    """What came of one call."""

    asked = TextField(label="What you asked", required=False)
    said = LinesField(
        label="What they said",
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    speaker = TextField(label="Who said it", required=False, longest=100)
    promised = PromisedDayField(
        label="Back on",
        required=False,
        help_text="fri, 15 may or tomorrow. “Any day now” is kept as no date.",
    )

    could_start = DayField(
        label="They can start, or could, on",
        required=False,
        help_text="If it only lay there until then: a slot, or something of ours.",
    )

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        day = given.get("promised")
        if day == NOTHING:
            given["said"] = given.get("said") or str(self["promised"].value())
            given["promised"] = None
        elif day is None and "promised" in given and not given.get("said"):
            self.add_error("promised", "Write the day, or what they said instead.")
        return given


class ReplyForm(CallForm):
    """What a vendor puts in by their own link."""

    field_order = ("promised", "said", "speaker")

    asked = could_start = None  # type: ignore[assignment]
    said = LinesField(
        label="A word with it", required=False, widget=forms.Textarea(attrs={"rows": 2})
    )
    speaker = TextField(label="Your name", required=False, longest=100)
    promised = PromisedDayField(
        label="It will be back on",
        required=False,
        help_text="fri, 15 may or tomorrow. If you cannot say, write why below.",
    )


class LinkForm(RecordForm):
    """How long a vendor's private link lasts."""

    days = WholeField(label="It lasts so many days", least=1, most=365, initial=90)
