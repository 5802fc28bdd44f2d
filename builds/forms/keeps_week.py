"""A form of something that keeps a working week: a person, a vendor, a place."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from builds.forms.choice import RowField
from builds.forms.record import Data, RecordForm
from builds.models import WorkCalendar
from builds.selectors.people import name_week


class KeepsWeekForm(RecordForm):
    """Facts with a field `calendar`, which offers the weeks there are."""

    calendar = RowField(
        label="Working week", nothing="the workshop’s usual week", required=False
    )

    def __init__(
        self, data: Data = None, *, calendars: Iterable[WorkCalendar], **settings: Any
    ) -> None:
        super().__init__(data, **settings)
        field = self.fields["calendar"]
        assert isinstance(field, RowField)
        field.offer(calendars, name_week)
