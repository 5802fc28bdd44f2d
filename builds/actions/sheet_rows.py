"""What a spreadsheet asks for, read and found sound, before anything is written."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from builds.models import Build, Job, Person, Place, Vendor
from builds.models.keyed import Keyed

Span = tuple[date, date]


@dataclass(frozen=True, slots=True)
class LinkAsked:
    """A job waits for another, in the words of the plan file."""

    before: Job
    kind: str
    wait_days: float = 0.0
    wait_hours: float = 0.0


@dataclass(slots=True)
class RowAsked:
    """A row to be added or changed: its new facts, and what hangs on it.

    What is None is left as it is. `spans` are days away or shut.
    """

    row: Keyed
    new: bool
    fields: dict[str, Any] = field(default_factory=dict)
    links: list[LinkAsked] | None = None
    places: list[tuple[Place, int]] | None = None
    trades: list[tuple[str, int | None, float | None]] | None = None
    spans: list[Span] | None = None
    # What the cells said and say, for whoever looks before it is taken in.
    said: list[tuple[str, str, str]] = field(default_factory=list)


@dataclass(slots=True)
class SheetAsked:
    """Everything a file asks for, in the order in which it can be written."""

    builds: list[Build] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    named_people: list[Person] = field(default_factory=list)
    named_vendors: list[Vendor] = field(default_factory=list)
    people: list[RowAsked] = field(default_factory=list)
    vendors: list[RowAsked] = field(default_factory=list)
    jobs: list[RowAsked] = field(default_factory=list)

    def added(self) -> list[Keyed]:
        """Give the rows that are only named in the file and are added for it."""
        return [
            *self.builds,
            *self.places,
            *self.named_people,
            *self.named_vendors,
        ]

    def rows(self) -> list[RowAsked]:
        """Give the rows of the file's own that are added or changed."""
        return [*self.people, *self.vendors, *self.jobs]
