"""A plan file to be taken in."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.record import RecordForm, Section

LARGEST = 20 * 1024 * 1024
MESSAGES = {
    "required": "Choose a plan file first.",
    "missing": "Choose a plan file first.",
    "invalid": "Choose a plan file first.",
    "empty": "That file has nothing in it.",
}


class PlanFileForm(RecordForm):
    """The file, and whether the workshop's clock stops at its moment."""

    SECTIONS = (Section("", (("file",), ("pin_clock",))),)

    file = forms.FileField(
        label="Plan file",
        error_messages=MESSAGES,
        widget=forms.FileInput(attrs={"accept": ".json,application/json"}),
    )
    pin_clock = forms.BooleanField(
        label="Stop the workshop’s clock at the moment the file was written",
        help_text="For looking at an old plan. The clock can be set going again on "
        "the workshop’s page.",
        required=False,
    )

    def clean_file(self) -> Any:
        """Refuse a file nobody could have written by hand or with this program."""
        file = self.cleaned_data["file"]
        if file.size > LARGEST:
            megabytes = file.size / 1024 / 1024
            raise forms.ValidationError(
                f"The file has {megabytes:.0f} MB. The most that is taken is 20 MB."
            )
        return file
