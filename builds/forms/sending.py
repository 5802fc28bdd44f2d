"""Which jobs are to leave for a vendor together, and the chance to keep."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from builds.forms.choice import NOT_THERE, NumberField
from builds.forms.record import RecordForm


class SendingForm(RecordForm):
    jobs = forms.MultipleChoiceField(
        label="What would leave together",
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": "Choose one at least.",
            "invalid_choice": NOT_THERE,
        },
    )
    wanted = NumberField(label="Keep so many in 100", least=1, most=99, initial=80.0)

    def __init__(
        self, *args: Any, listed: Iterable[tuple[str, str]], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["jobs"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = list(listed)
