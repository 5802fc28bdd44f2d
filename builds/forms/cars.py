"""A car."""

from __future__ import annotations

from typing import Any

from builds.forms.choice import WholeField
from builds.forms.record import RecordForm, Section, VersionedForm
from builds.forms.text import LinesField, TextField
from builds.models import Build


class CarForm(RecordForm):
    """A car to be taken on."""

    ROW = ("name", "customer", "wanted", "rank", "note")
    SECTIONS = (
        Section("The car", (("name",), ("customer",))),
        Section("What is wanted", (("wanted",), ("rank",), ("note",))),
    )

    name = TextField(label="What you call it")
    customer = TextField(label="Whose it is", required=False)
    wanted = LinesField(
        label="What the customer wants it to be",
        help_text="In their words, for whoever works on it.",
        required=False,
    )
    rank = WholeField(
        label="Whose turn it is",
        help_text="1 comes first when two cars need the same hands or place.",
        most=1_000_000,
        initial=1,
    )
    note = LinesField(label="Note", required=False)


class CarEditForm(VersionedForm, CarForm):
    """A car there is already; only what is typed anew is changed."""

    @classmethod
    def facts_of(cls, row: Build) -> dict[str, Any]:
        """Give what the car holds, and its version."""
        return super().facts_of(row) | {"version": row.version}
