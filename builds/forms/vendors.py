"""An outside firm."""

from __future__ import annotations

from typing import Any, ClassVar

from builds.forms.batches import BatchForm, batch_facts
from builds.forms.choice import NumberField, WholeField
from builds.forms.keeps_week import KeepsWeekForm
from builds.forms.record import Section, VersionIfKnownForm
from builds.forms.text import LinesField, TextField
from builds.forms.typed import DayField
from builds.models import Vendor


class VendorForm(KeepsWeekForm, BatchForm):
    """A vendor's facts."""

    ROW: ClassVar[tuple[str, ...]] = (
        "name", "does", "phone", "calendar", "minimum_charge",
        "slot_every", "slot_from", "reject_chance", "note",
    )  # fmt: skip
    SECTIONS = (
        Section("The firm", (("name",), ("does",), ("phone",), ("calendar",))),
        Section(
            "Slots and charges",
            (("slot_every", "slot_from"), ("minimum_charge", "reject_chance")),
            "Some firms start only on certain days: every so many of their working"
            " days, counted from one such day. Leave both empty if they start any day.",
        ),
        Section(
            "One batch",
            (("batch_same",), ("batch_kilos", "batch_days")),
            "A minimum charge is paid for each batch.",
        ),
        Section("", (("note",),)),
    )

    name = TextField(label="Name")
    does = TextField(label="What they do", required=False)
    phone = TextField(label="Telephone", longest=100, required=False)
    minimum_charge = NumberField(label="Minimum charge", required=False)
    slot_every = WholeField(
        label="A slot every so many working days", least=1, most=1000, required=False
    )
    slot_from = DayField(label="A day that is a slot", required=False)
    reject_chance = NumberField(
        label="Comes back not right, times in 100", most=100, required=False
    )
    note = LinesField(label="Note", required=False)

    def clean(self) -> dict[str, Any]:
        """Turn hundredths into a chance; a slot rule needs both its halves."""
        cleaned = super().clean() or self.cleaned_data
        cleaned["reject_chance"] = (cleaned.get("reject_chance") or 0.0) / 100
        every, first = cleaned.get("slot_every"), cleaned.get("slot_from")
        if every and not first and "slot_from" not in self.errors:
            self.add_error("slot_from", "Write one day that is a slot.")
        if first and not every and "slot_every" not in self.errors:
            self.add_error("slot_every", "Write how many working days lie between.")
        return cleaned

    @classmethod
    def facts_of(cls, row: Vendor) -> dict[str, Any]:
        """Give what the vendor's row holds."""
        facts = super().facts_of(row) | {"reject_chance": row.reject_chance * 100}
        return facts | batch_facts(row.batch)

    def fields_of_row(self) -> dict[str, Any]:
        """Give what was typed, the batch rule as one."""
        return super().fields_of_row() | {"batch": self.batch()}


class VendorEditForm(VersionIfKnownForm, VendorForm):
    """The facts of a vendor in the book; only what is typed anew is changed."""

    def fields_of_row(self) -> dict[str, Any]:
        """Give what was typed anew; a batch rule is one thing."""
        fields = super().fields_of_row()
        if any(name.startswith("batch_") for name in self.changed_names()):
            fields["batch"] = self.batch()
        return fields
