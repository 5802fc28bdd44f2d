"""The workshop's settings, the working weeks it keeps and its places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from builds.charts import wording
from builds.models import Job, Person, Place, State, Vendor, WorkCalendar, Workshop
from builds.selectors.people import say_week

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class Week:
    """One working week in words, with whoever keeps it."""

    key: str
    total: str
    usual: bool
    days: tuple[tuple[str, str], ...]
    holidays: str
    shut: int
    extra: int
    kept_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """One place, for the list."""

    key: str
    name: str
    holds: str
    hours: str
    asked_by: int


@dataclass(frozen=True, slots=True)
class WorkshopPage:
    """The workshop, its levels of readiness, its weeks and its places."""

    shop: Workshop
    levels: tuple[str, ...]
    weeks: tuple[Week, ...]
    places: tuple[PlaceLine, ...]


def workshop_page() -> WorkshopPage:
    """Give the workshop's settings."""
    shop = Workshop.current()
    return WorkshopPage(shop, tuple(shop.levels), weeks(), _places())


def weeks() -> tuple[Week, ...]:
    """Give the working weeks, the usual one first."""
    kept: dict[int, list[str]] = defaultdict(list)
    for model in (Person, Vendor, Place):
        for row in model._default_manager.exclude(calendar=None):
            kept[row.calendar_id or 0].append(str(row))
    rows = WorkCalendar.objects.filter(implied=False)
    return tuple(
        _week(one, tuple(kept[one.pk]), usual=number == 0)
        for number, one in enumerate(rows)
    )


def week(*, calendar: WorkCalendar) -> Week:
    """Give one working week."""
    return next(one for one in weeks() if one.key == calendar.key)


def asked_by(*, place: Place) -> tuple[Job, ...]:
    """Give the jobs still to be done that ask for a place."""
    jobs = Job.objects.filter(places=place).exclude(state=State.DONE)
    return tuple(jobs.select_related("build"))


def _week(one: WorkCalendar, kept_by: tuple[str, ...], *, usual: bool) -> Week:
    return Week(
        key=one.key,
        total=say_week(one),
        usual=usual,
        days=_say_days(one.week),
        holidays=one.holidays,
        shut=len(one.closed),
        extra=len(one.open),
        kept_by=kept_by,
    )


def _say_days(week: Mapping[str, Sequence[str]]) -> tuple[tuple[str, str], ...]:
    """Say the hours, days with the same hours together: `Mon to Thu`."""
    lines = []
    for hours, days in groupby(DAYS, key=lambda day: tuple(week.get(day) or ())):
        names = [day.capitalize() for day in days]
        span = names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"
        if hours:
            lines.append((span, ", ".join(hours).replace("-", "–")))
    return tuple(lines)


def _places() -> tuple[PlaceLine, ...]:
    counts: dict[int, int] = defaultdict(int)
    open_jobs = Job.objects.exclude(state=State.DONE).exclude(places=None)
    for pk in open_jobs.values_list("places", flat=True):
        counts[pk] += 1
    return tuple(
        PlaceLine(
            key=one.key,
            name=str(one),
            holds=wording.counted(one.capacity, "job,jobs") + " at once",
            hours=say_week(one.calendar),
            asked_by=counts[one.pk],
        )
        for one in Place.objects.select_related("calendar")
    )
