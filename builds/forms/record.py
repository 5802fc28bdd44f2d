"""What every form of the records has: sections, the workshop's clock, both versions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, ClassVar

from django import forms

from builds.actions.errors import Conflict
from builds.forms.choice import WholeField
from builds.forms.hours import DaysField
from builds.forms.typed import TypedField

Data = Mapping[str, Any] | None
NEEDED = "Fill this in."


@dataclass(frozen=True, slots=True)
class Section:
    """Some fields under a heading; those of one row stand side by side."""

    heading: str
    rows: tuple[tuple[str, ...], ...]
    words: str = ""


@dataclass(frozen=True, slots=True)
class Clash:
    """One field that two people changed."""

    name: str
    label: str
    yours: str
    theirs: str


class RecordForm(forms.Form):
    """A form in sections; `SECTIONS` says which."""

    SECTIONS: ClassVar[tuple[Section, ...]] = ()
    # Fields of the row itself, in the names of the row.
    ROW: ClassVar[tuple[str, ...]] = ()

    def __init__(
        self,
        data: Data = None,
        *,
        now: datetime | None = None,
        initial: Mapping[str, Any] | None = None,
        files: Any = None,
        **settings: Any,
    ) -> None:
        settings["initial"] = dict(initial or {})
        super().__init__(data, files, label_suffix="", **settings)
        self.use_required_attribute = False
        # Words already in use, by the id of their list on the page.
        self.suggestions: dict[str, tuple[str, ...]] = {}
        for field in self.fields.values():
            if isinstance(field, TypedField | DaysField):
                field.now = now
            if field.required and "This field" in field.error_messages["required"]:
                field.error_messages["required"] = NEEDED

    def sections(self) -> Iterator[tuple[Section, list[list[forms.BoundField]]]]:
        """Give the sections with their fields."""
        for section in self.SECTIONS:
            rows = [[self[name] for name in row] for row in section.rows]
            yield section, rows

    def fields_of_row(self) -> dict[str, Any]:
        """Give what was typed, by the names of the row."""
        return {name: self.cleaned_data[name] for name in self.ROW}

    @classmethod
    def facts_of(cls, row: Any) -> dict[str, Any]:
        """Give what the row holds, for the fields."""
        return {name: getattr(row, name) for name in cls.ROW}


class VersionedForm(RecordForm):
    """A form that knows which version of the row was on the page."""

    version = WholeField(most=2**31 - 1, widget=forms.HiddenInput())
    conflict = False
    clashes: tuple[Clash, ...] = ()

    def fields_of_row(self) -> dict[str, Any]:
        """Give what was typed anew, without what is left as the other wrote it."""
        changed = self.changed_names()
        return {name: self.cleaned_data[name] for name in self.ROW if name in changed}

    def changed_names(self) -> set[str]:
        """Give the names of what was changed, by the choice made in a conflict."""
        kept = {
            name for name in self.fields if self.data.get(f"keep-{name}") == "theirs"
        }
        return set(self.changed_data) - kept

    def version_seen(self) -> int | None:
        """Give the version that was on the page."""
        seen: int | None = self.cleaned_data["version"]
        return seen

    @classmethod
    def facts_of(cls, row: Any) -> dict[str, Any]:
        """Give what the row holds, and its version."""
        return super().facts_of(row) | {"version": row.version}

    def show_conflict(self, conflict: Conflict) -> None:
        """Keep what was typed, beside what the other person wrote."""
        differing = [
            name
            for name, theirs in conflict.theirs.items()
            if conflict.yours.get(name) != theirs
        ]
        self.conflict = True
        self.clashes = tuple(
            Clash(
                name,
                self._label(name),
                self._say(name, conflict.yours.get(name)),
                self._say(name, conflict.theirs[name]),
            )
            for name in differing
        )
        self.data = {key: self.data[key] for key in self.data}
        self.data[self.add_prefix("version")] = conflict.version

    def _label(self, name: str) -> str:
        known = self.fields.get(name)
        return str((known and known.label) or name.replace("_", " "))

    def _say(self, name: str, value: Any) -> str:
        if isinstance(value, bool):
            return "yes" if value else "no"
        if value is None or value == "":
            return "nothing"
        field = self.fields.get(name)
        if isinstance(field, forms.ChoiceField):
            listed: Any = field.choices
            return str(dict(listed).get(value, value))
        return f"{value:g}" if isinstance(value, float) else str(value)


class VersionIfKnownForm(VersionedForm):
    """A versioned form that may be sent without a version: then the newest counts."""

    version = WholeField(most=2**31 - 1, required=False, widget=forms.HiddenInput())
