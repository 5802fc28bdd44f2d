"""Fields that accept what people type and say what was understood."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from builds.charts import wording
from builds.forms import days, lengths
from builds.forms.text import LONGEST_TYPED, TextField
from builds.models import Kind


class Understood(forms.BoundField):
    """A field with what was understood of it, for the page."""

    @property
    def understood(self) -> str:
        """Say what is in the field now, or nothing if it is empty or not readable."""
        field = self.field
        if not isinstance(field, TypedField):
            return ""
        try:
            return field.say_typed(self.value())
        except ValidationError:
            return ""


class TypedField(TextField):
    """Something short that is read; `now` is the clock on the workshop's wall."""

    bound_field_class = Understood
    reads = ""

    def __init__(self, *, now: datetime | None = None, **kwargs: Any) -> None:
        self.now = now
        super().__init__(longest=LONGEST_TYPED, **kwargs)

    def clean(self, value: Any) -> Any:
        """Read what was typed; nothing typed is None."""
        text = super().clean(self.prepare_value(value))
        if not text:
            return None
        try:
            return self.read(text)
        except (ValueError, OverflowError) as error:
            raise ValidationError(str(error)) from error

    def say_typed(self, typed: Any) -> str:
        """Say what was understood; raises ValidationError with why it was not."""
        value = self.clean(typed)
        try:
            return "" if value is None else self.say(value)
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Say whether it means something else than before."""
        try:
            return bool(self.clean(initial) != self.clean(data))
        except ValidationError:
            return True

    def today(self) -> date:
        """Give the day on the workshop's wall."""
        return (self.now or datetime.now()).date()

    def read(self, text: str) -> Any:
        """Turn the text into a value, or raise ValueError."""
        raise NotImplementedError

    def say(self, value: Any) -> str:
        """Say a value in words, or raise ValueError."""
        raise NotImplementedError


class DurationField(TypedField):
    """A length of work; what a bare number means depends on the kind of job."""

    reads = "length"
    kind: str = Kind.BENCH
    day_hours = 8.0

    def read(self, text: str) -> lengths.Length:
        return lengths.read_length(text)

    def say(self, value: lengths.Length) -> str:
        amount = value.for_kind(self.kind, self.day_hours)
        return lengths.say_length(amount, self.kind)


class DayField(TypedField):
    """A day."""

    reads = "day"

    def read(self, text: str) -> date:
        try:
            return days.read_day(text, self.today())
        except OverflowError:
            raise ValueError(f"“{text}” is too far away. {days.HOW}") from None

    def say(self, value: date) -> str:
        return wording.day_year(value)

    def prepare_value(self, value: Any) -> Any:
        """Write a stored day the way somebody would type it."""
        if isinstance(value, date):
            return f"{value.day} {value:%b %Y}".lower()
        return value


class MomentField(TypedField):
    """A day and a time; `default` is the time if none is typed."""

    reads = "moment"

    def __init__(self, *, default: time | None = None, **kwargs: Any) -> None:
        self.default = default
        super().__init__(**kwargs)

    def read(self, text: str) -> datetime:
        try:
            return days.read_moment(text, self.today(), self.default)
        except OverflowError:
            raise ValueError(f"“{text}” is too far away. {days.HOW}") from None

    def say(self, value: datetime) -> str:
        return f"{wording.day_year(value)}, {wording.clock(value)}"

    def prepare_value(self, value: Any) -> Any:
        """Write a stored moment the way somebody would type it."""
        if isinstance(value, datetime):
            return f"{value.day} {value:%b %Y %H:%M}".lower()
        return value
