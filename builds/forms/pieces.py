"""The list of a job's pieces: put on it, moved about."""

from __future__ import annotations

from django import forms

from builds.forms.choice import WholeField
from builds.forms.photo import PhotoField
from builds.forms.record import RecordForm
from builds.forms.text import LinesField, TextField
from builds.models.piece import LONGEST


class ListPieceForm(RecordForm):
    """One line of the list."""

    name = TextField(label="What it is", longest=200)
    count = WholeField(label="How many alike", least=1, initial=1)
    place = TextField(label="Where it lies", longest=LONGEST, required=False)


class MovePieceForm(RecordForm):
    """Who has a piece now."""

    holder = TextField(label="Who has it now", longest=LONGEST)
    place = TextField(label="Where", longest=LONGEST)
    signed = TextField(label="Signed for by", longest=200, required=False)
    note = LinesField(
        label="A word about it",
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    photo = PhotoField(label="A photograph")
