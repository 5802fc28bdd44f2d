"""A place; where a job is done, and how much room it takes there."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from django import forms

from builds.forms.choice import RowField, WholeField
from builds.forms.keeps_week import KeepsWeekForm
from builds.forms.record import Data, RecordForm, Section, VersionIfKnownForm
from builds.forms.text import TextField
from builds.models import Place


class PlaceForm(KeepsWeekForm):
    """A place's facts."""

    ROW = ("name", "capacity", "calendar")
    SECTIONS = (Section("", (("name",), ("capacity",), ("calendar",))),)

    name = TextField(label="Name")
    capacity = WholeField(label="How many jobs at once", least=1, most=1000, initial=1)
    calendar = RowField(
        label="Open",
        help_text="The working week of this place.",
        nothing="the workshop’s usual week",
        required=False,
    )


class PlaceEditForm(VersionIfKnownForm, PlaceForm):
    """The facts of a place there is; only what is typed anew is changed."""


class PlacesForm(RecordForm):
    """So many units of each place; nothing or nought where the job takes none."""

    def __init__(
        self,
        data: Data = None,
        *,
        places: tuple[Place, ...],
        uses: Mapping[str, int] | None = None,
        near: Collection[str] = (),
    ) -> None:
        super().__init__(data)
        self.places = places
        self.near = near
        for number, place in enumerate(places):
            self.fields[f"place-{number}"] = WholeField(
                label=str(place),
                help_text=f"holds {place.capacity}",
                most=place.capacity,
                required=False,
                initial=(uses or {}).get(place.key),
            )

    def usual(self) -> list[forms.BoundField]:
        """Give the places this car is seen in."""
        return self._some(near=True)

    def others(self) -> list[forms.BoundField]:
        """Give the other places."""
        return self._some(near=False)

    def _some(self, *, near: bool) -> list[forms.BoundField]:
        return [
            self[f"place-{number}"]
            for number, place in enumerate(self.places)
            if (place.key in self.near) is near
        ]

    def chosen(self) -> list[tuple[Place, int]]:
        """Give the places with what is taken up there."""
        amounts: list[Any] = [
            self.cleaned_data[f"place-{number}"] for number in range(len(self.places))
        ]
        return [
            (place, amount)
            for place, amount in zip(self.places, amounts, strict=True)
            if amount
        ]
