"""Who a job is given to."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.choice import RowField
from builds.forms.record import RecordForm
from builds.models import Person

FREE = "Whoever is free"


class WhoForm(RecordForm):
    person = RowField(
        label="Who does it",
        nothing=FREE,
        required=False,
        widget=forms.RadioSelect,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["person"]
        assert isinstance(field, RowField)
        field.offer(Person.objects.filter(left_out=False))
