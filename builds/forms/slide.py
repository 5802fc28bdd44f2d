"""How many days late a job is thought to come."""

from __future__ import annotations

from builds.forms.choice import WholeField
from builds.forms.record import RecordForm

FARTHEST = 365
HOW = f"Write a number of days from 0 to {FARTHEST}."


class SlideForm(RecordForm):
    days = WholeField(
        label="Working days late",
        most=FARTHEST,
        help_text=f"From 0 to {FARTHEST}. Nothing is changed: this only asks.",
    )

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        kinds = ("invalid", "min_value", "max_value", "required")
        self.fields["days"].error_messages.update(dict.fromkeys(kinds, HOW))
