"""What one batch at a vendor is, as people write it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from builds.forms.choice import NumberField
from builds.forms.days import DAYS
from builds.forms.record import RecordForm
from builds.forms.text import TextField

ALIKE = (("process", "process"), ("colour", "colour"), ("alloy", "alloy"))
HOW = "Write it like “black: tue; clear: mon thu”."


class ColourDaysField(TextField):
    """Which colour is run on which weekdays."""

    def clean(self, value: Any) -> dict[str, list[str]]:
        """Turn `black: tue; clear: thu` into days by colour."""
        text = super().clean(value)
        return dict(_one(part) for part in text.split(";") if part.strip())


def _one(part: str) -> tuple[str, list[str]]:
    colour, _, said = part.partition(":")
    days = [day.casefold()[:3] for day in said.replace(",", " ").split()]
    if not colour.strip() or not days or any(day not in DAYS for day in days):
        raise ValidationError(f"“{part.strip()}” is not a colour with its days. {HOW}")
    return " ".join(colour.split()), list(dict.fromkeys(days))


class BatchForm(RecordForm):
    """The fields of a batch rule; `batch` is what the row keeps of them."""

    batch_same = forms.MultipleChoiceField(
        label="One batch is one",
        choices=ALIKE,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    batch_kilos = NumberField(
        label="A batch holds so many kilograms", least=0.1, required=False
    )
    batch_days = ColourDaysField(
        label="Colour days", required=False, help_text=HOW, longest=300
    )

    def batch(self) -> dict[str, Any] | None:
        """Give the rule, or None if nothing is said of it."""
        same, kilos, days = (
            self.cleaned_data[name]
            for name in ("batch_same", "batch_kilos", "batch_days")
        )
        if not (same or kilos or days):
            return None
        return {"same": same, "kilos": kilos, "days": days}


def batch_facts(batch: Mapping[str, Any] | None) -> dict[str, Any]:
    """Give what a row keeps of a rule, for the fields."""
    if batch is None:
        return {}
    days = "; ".join(f"{one}: {' '.join(on)}" for one, on in batch["days"].items())
    return {
        "batch_same": batch["same"],
        "batch_kilos": batch["kilos"],
        "batch_days": days,
    }
