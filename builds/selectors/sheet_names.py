"""Names as they stand in a sheet: which row is meant, and how a row is named."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Generic, TypeVar

from django.utils.text import slugify

from builds.models import Job
from builds.models.keyed import Keyed

Thing = TypeVar("Thing", bound=Keyed)
SEVERAL = "There are several called “{0}”. Write the id of the one you mean."


def fold(words: str) -> str:
    """Give words without the difference of capitals and spaces."""
    return " ".join(words.casefold().split())


class Names(Generic[Thing]):
    """Rows by key and by name; those a sheet brings are added on the way."""

    def __init__(self, rows: Iterable[Thing]) -> None:
        self.rows: dict[str, Thing] = {}
        self.named: dict[tuple[str, str], list[Thing]] = {}
        self.slugs: dict[str, int] = {}
        for row in rows:
            self.add(row)

    def add(self, row: Thing) -> Thing:
        """Take one more row."""
        self.rows[row.key] = row
        for within in {"", self.within(row)}:
            self.named.setdefault((within, fold(str(row))), []).append(row)
        return row

    def within(self, row: Thing) -> str:
        """Give the key of the car a row belongs to, if it belongs to one."""
        return row.build.key if isinstance(row, Job) and row.build else ""

    def find(self, words: str, within: str = "") -> Thing | None:
        """Give the row meant by a key or a name; raises ValueError if several are."""
        if words in self.rows:
            return self.rows[words]
        found = self.named.get((within, fold(words)))
        if not found and within:
            return self.find(words)
        if found and len(found) > 1:
            raise ValueError(SEVERAL.format(words))
        return found[0] if found else None

    def twin(self, words: str, within: str) -> Thing | None:
        """Give the only row of this name in this car, if there is just one."""
        found = self.named.get((within, fold(words)), [])
        same = [row for row in found if self.within(row) == within]
        return same[0] if len(same) == 1 else None

    def say(self, row: Thing | None) -> str:
        """Name a row so that `find` leads back to it."""
        if row is None:
            return ""
        alone = len(self.named.get(("", fold(str(row))), [])) == 1
        return str(row) if alone and str(row) not in self.rows else row.key

    def new_key(self, words: str) -> str:
        """Give a key nobody has, made from a name."""
        stem = slugify(words)[:80] or "row"
        number = self.slugs.get(stem, 1)
        key = stem
        while key in self.rows:
            number += 1
            key = f"{stem}-{number}"
        self.slugs[stem] = number
        return key
