"""A moment as the workshop's clock on the wall shows it."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from django.core.exceptions import ValidationError
from django.db import models

if TYPE_CHECKING:
    Column = models.Field[Any, Any]
else:
    Column = models.Field


class WallClockField(Column):
    """A naive local moment, kept as `YYYY-MM-DDTHH:MM`.

    The plan counts in local wall clock. A zoned column would move moments that
    fall into the hour a zone skips in spring, so the plan would not come back as
    it went in. The text sorts in time order.
    """

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 16
        super().__init__(*args, **kwargs)

    def get_internal_type(self) -> str:
        """Name the kind of column."""
        return "CharField"

    def deconstruct(self) -> Any:
        """Leave out the length, which never differs."""
        name, path, args, kwargs = super().deconstruct()
        del kwargs["max_length"]
        return name, path, args, kwargs

    def from_db_value(self, value: str | None, *_: object) -> datetime | None:
        """Turn the stored text into a moment."""
        return None if value is None else datetime.fromisoformat(value)

    def to_python(self, value: Any) -> datetime | None:
        """Accept a moment or its text."""
        if value is None or isinstance(value, datetime):
            return value
        try:
            return datetime.fromisoformat(value)
        except (TypeError, ValueError) as error:
            raise ValidationError("Give a day and a time.") from error

    def get_prep_value(self, value: Any) -> str | None:
        """Write the text that is stored."""
        moment = self.to_python(value)
        return None if moment is None else moment.isoformat(timespec="minutes")[:16]

    def value_to_string(self, obj: models.Model) -> str:
        """Write the text for a fixture."""
        return self.get_prep_value(self.value_from_object(obj)) or ""

    def formfield(self, **kwargs: Any) -> Any:
        """Leave it to the form: a zoned form field would shift the moment."""
        raise NotImplementedError("Name the form field for a wall-clock moment.")
