"""One way a job could be done in."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from builds.forms import lengths
from builds.forms.choice import NumberField, RowField, WordChoice
from builds.forms.record import RecordForm
from builds.forms.text import LONGEST_WORD, TextField
from builds.forms.typed import DurationField
from builds.models import Kind, Vendor

KINDS = (
    (Kind.BENCH, "In house"),
    (Kind.OUTSIDE, "At a vendor"),
    (Kind.ORDER, "Bought in"),
)
LENGTHS = ("low", "likely", "high")
BOTH = "Write both, the quicker and the longer, or none."


class WayForm(RecordForm):
    """Working hours in house; the vendor's or supplier's working days elsewhere."""

    name = TextField(label="What to call it", longest=LONGEST_WORD)
    kind = forms.ChoiceField(label="Where", choices=KINDS, initial=Kind.BENCH)
    vendor = RowField(label="Vendor", nothing="none", required=False)
    trade = WordChoice(label="Trade, in house", nothing="anybody", required=False)
    low = DurationField(label="One time in ten it is quicker", required=False)
    likely = DurationField(
        label="What it most likely takes",
        help_text="Hours in house; working days at a vendor.",
        error_messages={"required": "Write the likely length."},
    )
    high = DurationField(label="One time in ten it is longer", required=False)
    cost = NumberField(label="What it costs", required=False)
    spoil_chance = NumberField(
        label="The part is spoilt, times in 100", most=100, required=False
    )

    def __init__(
        self,
        *args: Any,
        vendors: Iterable[Vendor],
        trades: Iterable[str],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        vendor, trade = self.fields["vendor"], self.fields["trade"]
        assert isinstance(vendor, RowField)
        assert isinstance(trade, WordChoice)
        vendor.offer(vendors)
        trade.offer(trades)
        self.chosen = str(self["kind"].value())
        for name in LENGTHS:
            field = self.fields[name]
            assert isinstance(field, DurationField)
            field.kind = self.chosen

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        for name in LENGTHS:
            self._convert(given, name)
        low, likely, high = (given.get(name) for name in LENGTHS)
        if (low is None) != (high is None) and not {"low", "high"} & set(self.errors):
            self.add_error("low" if low is None else "high", BOTH)
        if likely is not None and low is not None and low > likely:
            self.add_error("low", "This is more than the likely length.")
        if likely is not None and high is not None and high < likely:
            self.add_error("high", "This is less than the likely length.")
        if self.chosen == Kind.OUTSIDE and not given.get("vendor"):
            self.add_error("vendor", "Choose the vendor this goes to.")
        if self.chosen == Kind.BENCH:
            given["vendor"] = None
        else:
            given["trade"] = None
        given["spoil_chance"] = (given.get("spoil_chance") or 0.0) / 100
        return given

    def _convert(self, given: dict[str, Any], name: str) -> None:
        if not isinstance(given.get(name), lengths.Length):
            return
        try:
            given[name] = given[name].for_kind(self.chosen, 8.0)
        except ValueError as error:
            self.add_error(name, str(error))
