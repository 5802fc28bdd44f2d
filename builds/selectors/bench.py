"""The bench list: what one person does now, does next, and cannot do yet."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from django.db.models import Q, QuerySet

from builds.models import (
    Forecast,
    Job,
    Kind,
    Link,
    LinkKind,
    Person,
    State,
    User,
)
from builds.selectors.answers import Facts, newest, planned_of
from builds.selectors.kept_answers import UNTOLD, KeptAnswer, kept
from builds.selectors.trades import Trades, fits, reaches, trades_of

IN_HOUSE = (Kind.BENCH, Kind.CHECK, Kind.STAND)
AT_VENDOR = (Kind.OUTSIDE, Kind.ORDER)
OUT_AND_BACK = ("away", "part back", "back, to check")
SHOWN_NEXT = 6
SHOWN_WAITING = 5
FEW = 500
LAST = "~"  # behind every date
READ = (
    *("key", "version", "title", "kind", "state", "area", "sent"),
    *("likely", "remaining", "trade", "trade_level", "build__key", "build__name"),
)


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
    may_start: bool  # the first of what is next, and not only help with it
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
    answer = kept(forecast) if forecast else None
    today = answer.summary.get("today", {}).get(person.key, []) if answer else []
    found = _theirs(person, answer, today)
    trades = trades_of(person)
    able = _able(person, answer, trades, today)
    unsure = [pk for pk, told in found.items() if told != "waiting"]
    held = _held([*unsure, *able])
    now = [pk for pk, told in found.items() if told == "now"]
    waits = [pk for pk, told in found.items() if told == "waiting" or pk in held]
    waiting = [pk for pk in waits if pk not in now]
    first = waiting[:SHOWN_WAITING]
    free = [pk for pk in able if pk not in held][:SHOWN_NEXT]
    shown = _open_jobs().filter(Q(pk__in=[*now, *first, *free]) | Q(key__in=today))
    jobs = {job.pk: job for job in shown.select_related("build").only(*READ)}
    lines = _lines(jobs.values(), forecast, set(today), held)
    planned = [lines[key] for key in today if key in lines]
    following = [one for one in planned if one.condition == "clear"]
    following += [lines[jobs[pk].key] for pk in free if pk in jobs]
    theirs = {jobs[pk].key for pk in jobs if fits(trades, jobs[pk])}
    return BenchList(
        now=tuple(lines[job.key] for job in jobs.values() if job.pk in now),
        next=tuple(following[:SHOWN_NEXT]),
        may_start=bool(following) and following[0].key in theirs,
        in_the_way=tuple(lines[jobs[pk].key] for pk in first if pk in jobs),
        more_waiting=len(waiting[SHOWN_WAITING:]),
    )


def _theirs(
    person: Person, answer: KeptAnswer | None, today: list[str]
) -> dict[int, str]:
    """Give somebody's open jobs, the soonest first, with what the answer told of each.

    What is under way is told as "now", whatever the answer said.
    """
    planned_for = answer.planned_for(person.key) if answer else ()
    told = {*planned_for, *today}
    rows = _open_jobs().filter(Q(person=person) | Q(key__among=told))
    outlines = answer.outlines if answer else {}
    found = [
        (outlines.get(key, UNTOLD), pk, state)
        for pk, key, state, whose in rows.values_list("pk", "key", "state", "person_id")
        if whose in (None, person.pk) or key in today
    ]
    found.sort(key=lambda one: one[0].start or LAST)
    return {
        pk: "now" if state == State.UNDER_WAY else told.condition
        for told, pk, state in found
    }


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
    return _held([job.pk for job in jobs])


def _held(jobs: list[int]) -> frozenset[int]:
    return frozenset(
        Link.objects.filter(
            job__in=jobs,
            kind=LinkKind.AFTER,
            before__state__in=(State.OPEN, State.UNDER_WAY),
        )
        .order_by()
        .values_list("job_id", flat=True)
    )


def _open_jobs() -> QuerySet[Job]:
    return Job.objects.filter(
        kind__in=IN_HOUSE,
        state__in=(State.OPEN, State.UNDER_WAY),
        build__left_out=False,
    )


def _lines(
    jobs: Collection[Job],
    forecast: Forecast | None,
    today: set[str],
    held: Collection[int],
) -> dict[str, BenchJob]:
    planned = planned_of(forecast, [job.key for job in jobs])
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


def _able(
    person: Person, answer: KeptAnswer | None, trades: Trades, today: list[str]
) -> list[int]:
    """Give the open jobs somebody could take on as well, if the answer lets them."""
    rows = _open_jobs().filter(Q(person=None) | Q(person=person), state=State.OPEN)
    if answer:
        clear = answer.not_waiting()
        # With many done, few are open: then all of those are read.
        if len(clear) < FEW:
            rows = _open_jobs().filter(key__among=clear, state=State.OPEN)
    found = rows.values_list("pk", "key", "person_id", "trade", "trade_level")
    return [
        pk
        for pk, key, whose, trade, level in found
        if trade
        and reaches(trades, trade, level)
        and whose in (None, person.pk)
        and key not in today
        and not (answer and answer.waits(key))
    ]
