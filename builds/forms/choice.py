"""Choose one of some rows that were read beforehand; no key reaches the database."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from django import forms

from builds.models.keyed import Keyed

NOT_THERE = "That is no longer on the list. Choose again."


class RowField(forms.ChoiceField):
    """One row, or None; `offer` says which there are."""

    def __init__(self, *, nothing: str = "", **kwargs: Any) -> None:
        self.nothing = nothing
        self.rows: dict[str, Any] = {}
        messages = {"invalid_choice": NOT_THERE}
        super().__init__(error_messages=messages, **kwargs)

    def offer(self, rows: Iterable[Keyed], say: Callable[[Any], str] = str) -> None:
        """Put rows on the list, in the words of `say`."""
        self.rows = {row.key: row for row in rows}
        listed = [(key, say(row)) for key, row in self.rows.items()]
        self.choices = [("", self.nothing), *listed]

    def prepare_value(self, value: Any) -> Any:
        """Write a row as its key."""
        return value.key if isinstance(value, Keyed) else value

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Say whether another row is chosen."""
        return (self.prepare_value(initial) or "") != (data or "")

    def clean(self, value: Any) -> Any:
        """Give the row, or None."""
        return self.rows.get(super().clean(value))


class WordChoice(forms.ChoiceField):
    """One of some words, or none (kept as None)."""

    def __init__(self, *, nothing: str = "", **kwargs: Any) -> None:
        self.nothing = nothing
        self.words: tuple[str, ...] = ()
        super().__init__(error_messages={"invalid_choice": NOT_THERE}, **kwargs)

    def offer(self, words: Iterable[str]) -> None:
        """Put words on the list."""
        self.words = tuple(words)
        self.choices = [("", self.nothing), *((word, word) for word in self.words)]

    def clean(self, value: Any) -> str | None:
        """Keep no choice as None, as the plan file does."""
        return super().clean(value) or None


class WholeField(forms.IntegerField):
    """A whole number that fits every database."""

    def __init__(self, *, least: int = 0, most: int = 100_000, **kwargs: Any) -> None:
        messages = {
            "invalid": "Write a whole number.",
            "min_value": f"Write {least} or more.",
            "max_value": f"Write {most} or less.",
            "required": "Write a whole number.",
        }
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "numeric"}))
        super().__init__(
            min_value=least, max_value=most, error_messages=messages, **kwargs
        )


class NumberField(forms.FloatField):
    """A number, with a point or a comma."""

    def __init__(self, *, least: float = 0, most: float = 1e6, **kwargs: Any) -> None:
        messages = {
            "invalid": "Write a number.",
            "min_value": f"Write {least:g} or more.",
            "max_value": f"Write {most:g} or less.",
        }
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal"}))
        super().__init__(
            min_value=least, max_value=most, error_messages=messages, **kwargs
        )

    def to_python(self, value: Any) -> Any:
        """Read a comma as a point."""
        if isinstance(value, str):
            value = value.replace(",", ".")
        return super().to_python(value)

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Say whether another number is written."""
        return str(self.prepare_value(initial) or "") != (data or "")

    def prepare_value(self, value: Any) -> Any:
        """Write a stored number without noughts behind the point."""
        return f"{round(value, 4):g}" if isinstance(value, float) else value
