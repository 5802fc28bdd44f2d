"""The workshop's settings and the working weeks it keeps."""

from __future__ import annotations

from dataclasses import dataclass

from builds.models import WorkCalendar, Workshop
from builds.selectors.people import say_week

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class Week:
    """One working week in words."""

    name: str
    total: str
    days: tuple[tuple[str, str], ...]
    holidays: str


@dataclass(frozen=True, slots=True)
class WorkshopPage:
    """The workshop, its levels of readiness and its weeks."""

    shop: Workshop
    levels: tuple[str, ...]
    weeks: tuple[Week, ...]


def workshop_page() -> WorkshopPage:
    """Give the workshop's settings."""
    shop = Workshop.current()
    weeks = tuple(_week(one) for one in WorkCalendar.objects.filter(implied=False))
    return WorkshopPage(shop, tuple(shop.levels), weeks)


def _week(one: WorkCalendar) -> Week:
    days = tuple(
        (day.capitalize(), " and ".join(one.week[day]).replace("-", " to "))
        for day in DAYS
        if one.week.get(day)
    )
    return Week(one.key, say_week(one), days, one.holidays)
