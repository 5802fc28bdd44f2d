"""The workshop's own settings."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from django import forms

from builds.forms.choice import WholeField
from builds.forms.record import Section, VersionIfKnownForm
from builds.forms.text import TextField
from builds.forms.typed import MomentField
from builds.models import Reading

LARGEST_SEED = 2**63 - 1
NO_ZONE = "There is no such time zone. Write it like “Europe/London”."


class WorkshopForm(VersionIfKnownForm):
    """Name, time zone, and how the odds are worked out."""

    ROW = (
        "name", "town", "phone", "address",
        "timezone", "now", "reading", "samples", "seed",
    )  # fmt: skip
    SECTIONS = (
        Section("The workshop", (("name",), ("town",), ("phone",), ("address",))),
        Section("The clock", (("timezone",), ("now",))),
        Section("The odds", (("reading",), ("samples", "seed"))),
    )

    name = TextField(label="Name")
    town = TextField(label="Town", required=False)
    phone = TextField(
        label="Telephone",
        help_text="Customers see it on their page.",
        longest=100,
        required=False,
    )
    address = TextField(
        label="Address",
        help_text="One line, for the customer’s page and for paper.",
        longest=200,
        required=False,
    )
    timezone = TextField(
        label="Time zone", longest=100, help_text="As in Europe/London."
    )
    now = MomentField(
        label="Clock stands at",
        help_text="Only for a trial or an old plan: 11 jan 8:00. Empty, it runs.",
        required=False,
    )
    reading = forms.ChoiceField(
        label="Low and high mean",
        choices=Reading.choices,
        widget=forms.RadioSelect,
    )
    samples = WholeField(
        label="Tries",
        help_text="How often the future is drawn. More is steadier and slower.",
        least=1,
        most=1_000_000,
    )
    seed = WholeField(
        label="Number the draws start from",
        help_text="The same number gives the same odds.",
        most=LARGEST_SEED,
    )

    def clean_timezone(self) -> str:
        """Refuse a zone nobody knows."""
        zone: Any = self.cleaned_data["timezone"]
        known = {one.casefold(): one for one in available_timezones()}
        if str(zone).casefold() not in known:
            raise forms.ValidationError(NO_ZONE)
        return known[str(zone).casefold()]
