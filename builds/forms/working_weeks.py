"""A working week: its hours by day, its holidays, shut and extra days."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.hours import ExtraDaysField, HoursField, ShutDaysField
from builds.forms.record import RecordForm, Section
from builds.forms.text import LONGEST_WORD, TextField
from builds.models import WorkCalendar

DAYS = {
    "mon": "Monday",
    "tue": "Tuesday",
    "wed": "Wednesday",
    "thu": "Thursday",
    "fri": "Friday",
    "sat": "Saturday",
    "sun": "Sunday",
}


class WorkingWeekForm(RecordForm):
    """A working week's facts."""

    ROW = ("holidays", "closed", "open", "elapsed")
    SECTIONS = (
        Section("", (("name",),)),
        Section(
            "Hours",
            (*((day,) for day in DAYS), ("elapsed",)),
            "As in 8:00-12:15, 13:00-16:45. A day left empty is shut.",
        ),
        Section("Days off and extra days", (("holidays",), ("closed",), ("open",))),
    )

    name = TextField(label="Name", longest=LONGEST_WORD)
    mon = HoursField(label=DAYS["mon"], required=False)
    tue = HoursField(label=DAYS["tue"], required=False)
    wed = HoursField(label=DAYS["wed"], required=False)
    thu = HoursField(label=DAYS["thu"], required=False)
    fri = HoursField(label=DAYS["fri"], required=False)
    sat = HoursField(label=DAYS["sat"], required=False)
    sun = HoursField(label=DAYS["sun"], required=False)
    elapsed = forms.BooleanField(
        label="Day and night, every day of the year",
        help_text="For what goes on by itself, such as paint that cures.",
        required=False,
    )
    holidays = TextField(
        label="Public holidays of",
        help_text="A country, or a country and a part of it: IE, GB-ENG.",
        longest=LONGEST_WORD,
        required=False,
    )
    closed = ShutDaysField(
        label="Days shut",
        help_text="One stretch a line: 24 dec to 2 jan. One day alone will do.",
        required=False,
    )
    open = ExtraDaysField(
        label="Days open all the same",
        help_text="One day a line, with its hours: 22 may 8:00-13:00.",
        required=False,
    )

    def clean_holidays(self) -> str:
        """Write the code in capitals, as the list of countries does."""
        code: str = self.cleaned_data["holidays"]
        return code.upper()

    def clean(self) -> dict[str, Any]:
        """Refuse a week with no hours at all, unless it runs day and night."""
        cleaned = super().clean() or self.cleaned_data
        hours = any(cleaned.get(day) for day in DAYS)
        if not hours and not cleaned.get("elapsed") and not self.errors:
            self.add_error("mon", "Give one day of the week its hours at least.")
        return cleaned

    def fields_of_row(self) -> dict[str, Any]:
        """Give the week as the row keeps it."""
        week = {day: self.cleaned_data[day] for day in DAYS if self.cleaned_data[day]}
        return super().fields_of_row() | {"week": week}

    @classmethod
    def facts_of(cls, row: WorkCalendar) -> dict[str, Any]:
        """Give what the row holds, day by day."""
        return {**super().facts_of(row), "name": row.key, **row.week}

    def typed(self) -> dict[str, Any]:
        """Give what the page would send, for putting a week back."""
        return {
            name: self[name].value()
            for name in self.fields
            if self[name].value() not in (None, "", False)
        }
