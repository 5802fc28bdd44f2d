"""What must come first, and how."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.lengths import Length
from builds.forms.record import RecordForm, Section
from builds.forms.text import TextField
from builds.forms.typed import DurationField
from builds.models import LinkKind

KINDS = [
    (LinkKind.AFTER, "when that one has finished"),
    (LinkKind.WITH, "when that one has started"),
    (LinkKind.BY, "at any time, but ends no earlier than that one"),
]


class WaitField(DurationField):
    """A wait: days are working days, hours run on the clock."""

    reads = "wait"

    def read(self, text: str) -> Length:
        length = super().read(text)
        if length.bare and length.number:
            raise ValueError(
                "Write 2d for two working days, or 24h for hours on the clock."
            )
        return length

    def say(self, value: Length) -> str:
        days, hours = working_days(value), value.hours
        words = [f"{days:g} working days"] if days else []
        words += [f"{hours:g} hours on the clock"] if hours else []
        return " and ".join(words)


class LinkForm(RecordForm):
    """How one job waits for another; `before` is the key of the other."""

    SECTIONS = (Section("", (("kind",), ("wait",))),)

    before = TextField(
        error_messages={"required": "Choose the job that must come first."}
    )
    kind = forms.ChoiceField(label="It may start", choices=KINDS, initial=KINDS[0][0])
    wait = WaitField(
        label="and then waits",
        help_text="2d is two working days, 24h is a day on the clock.",
        required=False,
    )

    def waits(self) -> dict[str, Any]:
        """Give the kind and both waits, by the names of the action."""
        wait = self.cleaned_data["wait"] or Length()
        return {
            "kind": self.cleaned_data["kind"],
            "wait_days": working_days(wait),
            "wait_hours": wait.hours,
        }


def working_days(wait: Length) -> float:
    """Give the working days of a wait; a week has five."""
    return wait.weeks * 5 + wait.days
