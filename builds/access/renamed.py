"""Where a working week went that goes by another name now.

Its name is its address, so a page opened before still sends to the old one.
"""

from __future__ import annotations

from builds.models import Event, WorkCalendar


def week_called(name: str) -> WorkCalendar | None:
    """Give the week that has this name, or had it last, as the record says."""
    followed: set[str] = set()
    while name not in followed:
        followed.add(name)
        week = WorkCalendar.objects.filter(key=name).first()
        if week is not None:
            return week
        given = Event.objects.filter(verb="changed calendar", before__name=name)
        newest = given.first()
        name = newest.after["name"] if newest else name
    return None
