"""Making up a consignment, and seeing it off."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import time
from typing import Any

from django import forms

from builds.actions.consignment_leaves import DropOff
from builds.forms.choice import WholeField
from builds.forms.photo import PhotoField
from builds.forms.record import RecordForm
from builds.forms.text import LinesField, TextField
from builds.forms.typed import MomentField
from builds.models import Job

SHORT = 200
MORNING = time(8, 0)


class MakeUpForm(RecordForm):
    """What travels together, under what name, and when it is to leave."""

    name = TextField(label="What you call it", longest=SHORT, required=False)
    leaves = MomentField(
        label="To leave",
        required=False,
        default=MORNING,
        help_text="fri, 15 may or 15 may 13:00; empty: as soon as all of it is ready",
    )
    jobs = forms.MultipleChoiceField(
        label="What travels in it",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose what travels in it."},
    )
    version = WholeField(most=2**31 - 1, required=False, widget=forms.HiddenInput())

    def __init__(self, data: Any = None, *, offered: Iterable[Job], **kw: Any) -> None:
        super().__init__(data, **kw)
        self.rows = {one.key: one for one in offered}
        field = self.fields["jobs"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = [(key, _said(one)) for key, one in self.rows.items()]

    def chosen(self) -> list[Job]:
        """Give the jobs that were ticked."""
        return [self.rows[key] for key in self.cleaned_data["jobs"]]


class LeaveForm(RecordForm):
    """Counted at the door, signed for."""

    signed = TextField(label="Who takes it there", longest=SHORT)
    words = LinesField(
        label="What goes with it",
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    photo = PhotoField(label="A photograph of the load")
    version = WholeField(most=2**31 - 1, widget=forms.HiddenInput())

    def __init__(self, data: Any = None, *, jobs: Iterable[Job], **kw: Any) -> None:
        super().__init__(data, **kw)
        self.keys = {f"count_{n}": one.key for n, one in enumerate(jobs)}
        self.order_fields([])
        counts = {
            f"count_{n}": WholeField(label=f"Counted: {one}", least=1)
            for n, one in enumerate(jobs)
        }
        self.fields = counts | self.fields

    def drop_off(self) -> DropOff:
        """Give what was counted out and who took it."""
        given = self.cleaned_data
        return DropOff(
            signed=given["signed"],
            counts={key: given[name] for name, key in self.keys.items()},
            words=given["words"],
            photo=given["photo"],
        )


def _said(job: Job) -> str:
    count = f", {job.pieces} pieces" if job.pieces else ""
    return f"{job}{count} ({job.build or 'no car'})"
