"""What a job can be given: people, vendors, places, trades, levels and other jobs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q, QuerySet

from builds.models import (
    Build,
    Job,
    Link,
    LinkKind,
    Person,
    PersonTrade,
    Place,
    State,
    Vendor,
    WorkCalendar,
    Workshop,
)

SHOWN = 60
USUAL_DAY = 8.0


@dataclass(frozen=True, slots=True)
class JobChoices:
    """What the lists of a job's form offer."""

    now: datetime
    day_hours: float
    levels: tuple[str, ...]
    trades: tuple[str, ...]
    areas: tuple[str, ...]
    phases: tuple[str, ...]
    people: tuple[Person, ...]
    vendors: tuple[Vendor, ...]
    places: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class First:
    """A job that comes first, or could."""

    key: str
    title: str
    car: str
    state: str
    kind: str = ""
    wait: str = ""
    link: int = 0


@dataclass(frozen=True, slots=True)
class FirstPage:
    """What a job waits for, and what else it could."""

    asked: str
    waits_for: tuple[First, ...]
    found: tuple[First, ...]
    more: int


def job_choices() -> JobChoices:
    """Read everything a job's form offers."""
    shop = Workshop.current()
    jobs = Job.objects.values_list("trade", "area", "phase").distinct()
    rows = list(jobs.order_by())
    skills = PersonTrade.objects.order_by("trade").values_list("trade", flat=True)
    return JobChoices(
        now=shop.clock(),
        day_hours=day_hours(),
        levels=tuple(shop.levels),
        trades=_words([*skills, *(row[0] for row in rows)]),
        areas=_words(row[1] for row in rows),
        phases=_words(row[2] for row in rows),
        people=tuple(Person.objects.all()),
        vendors=tuple(Vendor.objects.all()),
        places=tuple(Place.objects.all()),
    )


def day_hours() -> float:
    """Give the hours of the workshop's usual day: the longest of its week."""
    calendar = WorkCalendar.objects.first()
    if calendar is None or calendar.elapsed:
        return USUAL_DAY
    days = (
        sum(_length(opening) for opening in openings)
        for openings in calendar.week.values()
    )
    return max(days, default=0.0) or USUAL_DAY


def first_page(*, job: Job, asked: str) -> FirstPage:
    """Give what a job waits for, and the jobs that match what was asked."""
    links = Link.objects.filter(job=job).select_related("before__build")
    waits_for = tuple(_linked(link) for link in links)
    taken = [job.pk, *(link.before_id for link in links)]
    rows = list(_matching(job, asked).exclude(pk__in=taken).select_related("build"))
    # The same car's jobs before others', open ones before done ones.
    rows.sort(key=lambda row: (row.build_id != job.build_id, row.state == State.DONE))
    shown = tuple(_first(row) for row in rows[:SHOWN])
    return FirstPage(asked, waits_for, shown, max(0, len(rows) - SHOWN))


def uses_of(*, job: Job) -> dict[str, int]:
    """Give how much of each place a job takes up."""
    return dict(job.place_uses.values_list("place__key", "uses"))


def places_of_car(*, job: Job) -> frozenset[str]:
    """Give the places any job of the same car is done in."""
    if job.build is None:
        return frozenset()
    used = Place.objects.filter(jobs__build=job.build)
    return frozenset(used.values_list("key", flat=True))


def other_job(*, key: str) -> Job | None:
    """Give the job somebody chose from the list, if it is still there."""
    return Job.objects.select_related("build").filter(key=key).first()


def link_of(*, job: Job, number: int) -> Link | None:
    """Give one of a job's own links, if it is still there."""
    return job.links.select_related("before").filter(pk=number).first()


def _matching(job: Job, asked: str) -> QuerySet[Job]:
    """Give the jobs that match; another car's only when somebody asks for them."""
    found = Job.objects.exclude(state=State.LEFT_OUT)
    if not asked:
        return found.filter(build=job.build)
    for word in asked.split()[:8]:
        found = found.filter(
            Q(title__icontains=word)
            | Q(area__icontains=word)
            | Q(build__name__icontains=word)
        )
    return found


def _linked(link: Link) -> First:
    words = []
    if link.wait_days:
        words.append(f"{link.wait_days:g} working days")
    if link.wait_hours:
        words.append(f"{link.wait_hours:g} hours")
    return First(
        key=link.before.key,
        title=str(link.before),
        car=_car(link.before.build),
        state=link.before.state,
        kind=LinkKind(link.kind).label,
        wait=" and ".join(words),
        link=link.pk,
    )


def _first(job: Job) -> First:
    return First(key=job.key, title=str(job), car=_car(job.build), state=job.state)


def _car(build: Build | None) -> str:
    return str(build) if build else "no car"


def _words(words: Iterable[str | None]) -> tuple[str, ...]:
    return tuple(sorted({word for word in words if word}))


def _length(opening: str) -> float:
    opens, closes = opening.split("-")
    start, end = (
        timedelta(hours=int(one.split(":")[0]), minutes=int(one.split(":")[1]))
        for one in (opens, closes)
    )
    return (end - start) / timedelta(hours=1)
