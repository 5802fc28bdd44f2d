"""Say what was understood while somebody is still typing."""

from __future__ import annotations

from datetime import datetime

from django.core.exceptions import ValidationError

from builds.forms.calls import PromisedDayField
from builds.forms.hours import HoursField
from builds.forms.links import WaitField
from builds.forms.typed import DayField, DurationField, MomentField, TypedField
from builds.models import Kind

READS: dict[str, type[TypedField]] = {
    "day": DayField,
    "moment": MomentField,
    "wait": WaitField,
    "hours": HoursField,
    "promised": PromisedDayField,
}


def read_back(*, reads: str, text: str, kind: str, now: datetime, hours: float) -> str:
    """Give the words for what stands in a field, or for why it cannot be read."""
    field = _field(reads, kind, hours)
    if field is None:
        return ""
    field.now = now
    try:
        said = field.say_typed(text)
    except ValidationError as error:
        return " ".join(error.messages)
    return f"Understood as {said}." if said else ""


def _field(reads: str, kind: str, hours: float) -> TypedField | None:
    if reads == "length":
        length = DurationField(required=False)
        length.kind = kind if kind in Kind.values else Kind.BENCH
        length.day_hours = hours
        return length
    made = READS.get(reads)
    return made(required=False) if made else None
