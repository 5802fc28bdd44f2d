"""The bench list: what one person does now, does next, and cannot do yet."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import reduce
from operator import or_

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery

from builds.models import (
    AnsweredJob,
    Forecast,
    Job,
    Kind,
    Link,
    LinkKind,
    Person,
    PersonTrade,
    State,
    User,
)
from builds.selectors.answers import Facts, newest, planned_of

IN_HOUSE = (Kind.BENCH, Kind.CHECK, Kind.STAND)
AT_VENDOR = (Kind.OUTSIDE, Kind.ORDER)
OUT_AND_BACK = ("away", "part back", "back, to check")
SHOWN_NEXT = 6
SHOWN_WAITING = 5
ALONE = 2  # the trade level of someone who works without company


@dataclass(frozen=True, slots=True)
class BenchJob:
    """A job as a line of the list."""

    key: str
    version: int
    title: str
    car: str
    area: str
    condition: str
    hours: float | None
    planned_today: bool
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BenchList:
    """Everything one person needs in the morning, on one screen."""

    now: tuple[BenchJob, ...]
    next: tuple[BenchJob, ...]
    in_the_way: tuple[BenchJob, ...]
    more_waiting: int


def bench_list(user: User) -> BenchList | None:
    """Give someone's list; None when their sign-in is no person of the plan.

    The database picks what is shown, as a workshop may have thousands of open jobs.
    """
    person = user.person
    if person is None:
        return None
    forecast = newest()
    today = forecast.summary.get("today", {}).get(person.key, []) if forecast else []
    answered = AnsweredJob.objects.filter(forecast=forecast)
    told = answered.filter(key=OuterRef("key"))
    waits = Exists(_open_links()) | Exists(told.filter(condition="waiting"))
    planned_for = answered.for_person(person.key).values("key")
    theirs = Q(person=person) | Q(person=None, key__in=planned_for)
    begun = Q(state=State.UNDER_WAY)
    start = Subquery(told.exclude(planned_start="").values("planned_start")[:1])
    rows = _open_jobs().filter(theirs, begun | waits).annotate(start=start)
    soonest = rows.order_by(F("start").asc(nulls_last=True), "position", "pk")
    found = list(soonest.values_list("pk", "state"))
    now = {pk for pk, state in found if state == State.UNDER_WAY}
    waiting = [pk for pk, state in found if state != State.UNDER_WAY]
    first = waiting[:SHOWN_WAITING]
    named = _open_jobs().filter(Q(pk__in=[*now, *first]) | Q(key__in=today))
    shown = {job.pk: job for job in named}
    also = list(_fitting(person).filter(~waits).exclude(key__in=today)[:SHOWN_NEXT])
    lines = _lines([*shown.values(), *also], forecast, set(today))
    planned = [lines[key] for key in today if key in lines]
    following = [one for one in planned if one.condition == "clear"]
    following += [lines[job.key] for job in also]
    return BenchList(
        now=tuple(lines[job.key] for job in shown.values() if job.pk in now),
        next=tuple(following[:SHOWN_NEXT]),
        in_the_way=tuple(lines[shown[pk].key] for pk in first if pk in shown),
        more_waiting=len(waiting[SHOWN_WAITING:]),
    )


def condition_of(job: Job, planned: Facts, *, held: bool) -> str:
    """Give a job's condition: what people said since counts before the answer."""
    told = str(planned.get("condition", ""))
    if job.state in (State.DONE, State.LEFT_OUT):
        return str(job.state)
    if job.kind in AT_VENDOR and (job.sent or job.state == State.UNDER_WAY):
        return told if told in OUT_AND_BACK else "away"
    if job.state == State.UNDER_WAY:
        return "under way"
    if held:
        return "waiting"
    return told if told in ("waiting", "clear") else "clear"


def held_jobs(jobs: Iterable[Job]) -> frozenset[int]:
    """Give which of these still have work before them that is not finished."""
    return frozenset(
        Link.objects.filter(
            job__in=[job.pk for job in jobs],
            kind=LinkKind.AFTER,
            before__state__in=(State.OPEN, State.UNDER_WAY),
        ).values_list("job_id", flat=True)
    )


def _open_links() -> QuerySet[Link]:
    """Give what an outer job waits for that is not finished."""
    return Link.objects.filter(
        job=OuterRef("pk"),
        kind=LinkKind.AFTER,
        before__state__in=(State.OPEN, State.UNDER_WAY),
    )


def _open_jobs() -> QuerySet[Job]:
    return Job.objects.filter(
        kind__in=IN_HOUSE,
        state__in=(State.OPEN, State.UNDER_WAY),
        build__left_out=False,
    ).select_related("build", "person")


def _lines(
    jobs: Collection[Job], forecast: Forecast | None, today: set[str]
) -> dict[str, BenchJob]:
    planned = planned_of(forecast, [job.key for job in jobs])
    held = held_jobs(jobs)
    return {
        job.key: BenchJob(
            key=job.key,
            version=job.version,
            title=str(job),
            car=str(job.build or ""),
            area=job.area,
            condition=condition_of(job, planned.get(job.key, {}), held=job.pk in held),
            hours=job.likely if job.remaining is None else job.remaining,
            planned_today=job.key in today,
            reasons=tuple(planned.get(job.key, {}).get("reasons", ())),
        )
        for job in jobs
    }


def _fitting(person: Person) -> QuerySet[Job]:
    """Give the open jobs somebody could take on as well."""
    able = reduce(or_, map(_fits, person.trades.all()), Q(pk__in=()))
    free = Q(person=None) | Q(person=person)
    return _open_jobs().filter(free, able, state=State.OPEN)


def _fits(one: PersonTrade) -> Q:
    """Give which jobs a trade is enough for; without a level it is to work alone."""
    level = one.level or ALONE
    enough = Q(trade_level__lte=level)
    if level >= ALONE:
        enough |= Q(trade_level=None)
    return Q(trade=one.trade) & enough
