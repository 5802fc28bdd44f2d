"""What a part shares with others of its batch, and what it is worth."""

from __future__ import annotations

from django import forms

from builds.forms.choice import NumberField
from builds.forms.record import RecordForm
from builds.forms.text import LONGEST_WORD, TextField


class GoingFields(RecordForm):
    process = TextField(label="Process", longest=LONGEST_WORD, required=False)
    colour = TextField(label="Colour", longest=LONGEST_WORD, required=False)
    alloy = TextField(label="Alloy or metal", longest=LONGEST_WORD, required=False)
    kilos = NumberField(label="Weighs, kilograms", required=False)
    visible = forms.BooleanField(
        label="Seen beside others of its colour",
        help_text="Then they stay in one batch: shades shift from batch to batch.",
        required=False,
    )
    value = NumberField(label="What the part is worth", required=False)
