"""A working week: its hours by day, its holidays, shut and extra days."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from builds.actions.errors import Conflict
from builds.forms.hours import ExtraDaysField, HoursField, ShutDaysField
from builds.forms.record import RecordForm, Section, VersionIfKnownForm
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


class WorkingWeekEditForm(VersionIfKnownForm, WorkingWeekForm):
    """A working week that is there: of two people’s changes each day is chosen."""

    def fields_of_row(self) -> dict[str, Any]:
        """Give what was typed anew; a day left as the other wrote it stays theirs."""
        fields = super().fields_of_row()
        changed = self.changed_names()
        if changed & set(DAYS):
            typed = {day: self.cleaned_data[day] for day in DAYS if day in changed}
            week = {day: self.initial.get(day) for day in DAYS} | typed
            fields["week"] = {day: hours for day, hours in week.items() if hours}
        return fields

    def new_name(self) -> str | None:
        """Give its name if it was changed."""
        name: str = self.cleaned_data["name"]
        return name if "name" in self.changed_names() else None

    def show_conflict(self, conflict: Conflict) -> None:
        """Keep what was typed beside what the other person wrote, day by day."""
        super().show_conflict(
            Conflict(
                yours=_by_day(conflict.yours),
                theirs=_by_day(conflict.theirs),
                version=conflict.version,
            )
        )

    def _say(self, name: str, value: Any) -> str:
        if isinstance(value, list | dict):
            typed = str(self.fields[name].prepare_value(value))
            value = "; ".join(typed.splitlines())
        return super()._say(name, value)


def _by_day(fields: Mapping[str, Any]) -> dict[str, Any]:
    if "week" not in fields:
        return dict(fields)
    week = {day: fields["week"].get(day, []) for day in DAYS}
    return {name: one for name, one in fields.items() if name != "week"} | week
