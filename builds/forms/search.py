"""How long to look for a better plan."""

from __future__ import annotations

from django import forms

LENGTHS = (
    ("1", "1 minute: before opening the door"),
    ("5", "5 minutes: over a mug of tea"),
    ("15", "15 minutes: over the break"),
)


class SearchForm(forms.Form):
    minutes = forms.TypedChoiceField(
        label="How long to look",
        choices=LENGTHS,
        coerce=int,
        initial="1",
        widget=forms.RadioSelect,
        error_messages={
            "required": "Choose how long to look.",
            "invalid_choice": "Choose one of the lengths of time.",
        },
    )
