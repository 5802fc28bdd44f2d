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
    told = AnsweredJob.objects.filter(forecast=forecast, key=OuterRef("key"))
    waits = Exists(_open_links()) | Exists(told.filter(condition="waiting"))
    theirs = Q(person=person) | Q(person=None) & Exists(told.for_person(person.key))
    jobs = _open_jobs()
    now = list(jobs.filter(theirs, state=State.UNDER_WAY))
    following = _next(jobs.filter(~waits, state=State.OPEN), person, today)
    waiting = jobs.filter(theirs, waits, state=State.OPEN)
    start = Subquery(told.exclude(planned_start="").values("planned_start")[:1])
    soonest = F("start").asc(nulls_last=True)
    in_order = waiting.annotate(start=start).order_by(soonest, "position", "pk")
    their_turn = list(in_order.values_list("pk", flat=True))
    shown = jobs.in_bulk(their_turn[:SHOWN_WAITING])
    first = [shown[pk] for pk in their_turn[:SHOWN_WAITING] if pk in shown]
    lines = _lines([*now, *following, *first], forecast, set(today))
    return BenchList(
        now=tuple(lines[job.key] for job in now),
        next=tuple(lines[job.key] for job in following),
        in_the_way=tuple(lines[job.key] for job in first),
        more_waiting=len(their_turn) - len(first),
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


def _next(clear: QuerySet[Job], person: Person, today: list[str]) -> list[Job]:
    """Give what is planned for them today, then what they could take on as well."""
    planned = {job.key: job for job in clear.filter(key__in=today)}
    first = [planned[key] for key in today if key in planned]
    able = reduce(or_, map(_fits, person.trades.all()), Q(pk__in=()))
    free = Q(person=None) | Q(person=person)
    also = clear.filter(free, able).exclude(key__in=planned)
    return [*first, *also[:SHOWN_NEXT]][:SHOWN_NEXT]


def _fits(one: PersonTrade) -> Q:
    """Give which jobs a trade is enough for; without a level it is to work alone."""
    level = one.level or ALONE
    enough = Q(trade_level__lte=level)
    if level >= ALONE:
        enough |= Q(trade_level=None)
    return Q(trade=one.trade) & enough
