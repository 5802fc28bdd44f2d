"""Someone who works on cars: name and hours."""

from __future__ import annotations

from typing import ClassVar

from builds.forms.choice import RowField
from builds.forms.keeps_week import KeepsWeekForm
from builds.forms.record import Section, VersionIfKnownForm
from builds.forms.text import LinesField, TextField


class PersonForm(KeepsWeekForm):
    """Someone's facts."""

    ROW: ClassVar[tuple[str, ...]] = ("name", "calendar", "note")
    SECTIONS = (Section("", (("name",), ("calendar",), ("note",))),)

    name = TextField(label="Name")
    calendar = RowField(
        label="Hours",
        help_text="The working week this person keeps.",
        nothing="the workshop’s usual week",
        required=False,
    )
    note = LinesField(label="Note", required=False)


class PersonEditForm(VersionIfKnownForm, PersonForm):
    """The facts of someone who is here; only what is typed anew is changed."""
