"""Whole days, first and last included: someone away, a vendor shut."""

from __future__ import annotations

from datetime import date
from typing import Any

from builds.charts import wording
from builds.forms.record import RecordForm, Section
from builds.forms.typed import DayField


class SpanForm(RecordForm):
    """From a day to a day; one day alone is both."""

    SECTIONS = (Section("", (("first", "last"),)),)

    first = DayField(label="First day", help_text="fri, 15 may, 15/5/27")
    last = DayField(
        label="Last day",
        help_text="Empty for one day.",
        required=False,
    )

    def clean(self) -> dict[str, Any]:
        """Let one day stand for both, and refuse a span that runs backwards."""
        cleaned = super().clean() or self.cleaned_data
        first, last = cleaned.get("first"), cleaned.get("last")
        if first and not last and "last" not in self.errors:
            cleaned["last"] = first
        elif first and last and last < first:
            self.add_error("last", "The last day is before the first.")
        return cleaned

    def days(self) -> dict[str, date]:
        """Give both days."""
        return {name: self.cleaned_data[name] for name in ("first", "last")}

    def said(self) -> str:
        """Say the days: `from Fri 14 May to Mon 17 May`."""
        first, last = self.days().values()
        if first == last:
            return f"on {wording.day_year(first)}"
        return f"from {wording.day_year(first)} to {wording.day_year(last)}"
