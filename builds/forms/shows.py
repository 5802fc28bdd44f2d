"""A show, and a car entered for it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from builds.forms.choice import RowField, WordChoice
from builds.forms.record import Data, RecordForm, Section, VersionIfKnownForm
from builds.forms.text import TextField
from builds.forms.typed import MomentField
from builds.models import Build


class ShowForm(RecordForm):
    """A show's facts."""

    ROW = ("name", "move_in")
    SECTIONS = (Section("", (("name",), ("move_in",))),)

    name = TextField(label="Name")
    move_in = MomentField(
        label="Move-in",
        help_text="The day and the time the car has to stand there: 11 jun 16:00.",
    )


class ShowEditForm(VersionIfKnownForm, ShowForm):
    """The facts of a show in the diary; only what is typed anew is changed."""


class EntryForm(RecordForm):
    """A car and how ready it has to be."""

    SECTIONS = (Section("", (("build", "level"),)),)

    build = RowField(label="Car", nothing="choose a car")
    level = WordChoice(label="How ready", nothing="the top level", required=False)

    def __init__(
        self,
        data: Data = None,
        *,
        builds: Iterable[Build],
        levels: Iterable[str],
        initial: Any = None,
    ) -> None:
        super().__init__(data, initial=initial)
        car, level = self.fields["build"], self.fields["level"]
        assert isinstance(car, RowField)
        assert isinstance(level, WordChoice)
        car.offer(builds)
        level.offer(levels)
