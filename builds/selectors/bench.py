"""The bench list: what one person does now, does next, and cannot do yet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builds.models import Job, Kind, Link, LinkKind, Person, State, User
from builds.selectors.answers import Facts, newest

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


def last_answer() -> Facts:
    """Give the newest answer of the engine; empty when there is none yet."""
    forecast = newest()
    return forecast.answer if forecast else {}


def bench_list(user: User) -> BenchList | None:
    """Give someone's list; None when their sign-in is no person of the plan."""
    person = user.person
    if person is None:
        return None
    answer = last_answer()
    planned = answer.get("jobs", {})
    today = answer.get("today", {}).get(person.key, [])
    jobs = _open_jobs()
    lines = _lines(jobs, planned, set(today))
    now = [job for job in jobs if _is_theirs_now(job, person, planned)]
    following = _next(jobs, lines, person, today)
    waiting = [
        job
        for job in jobs
        if lines[job.key].condition == "waiting" and _is_theirs(job, person, planned)
    ]
    waiting.sort(key=lambda job: _start(planned.get(job.key, {})))
    return BenchList(
        now=tuple(lines[job.key] for job in now),
        next=tuple(lines[key] for key in following[:SHOWN_NEXT]),
        in_the_way=tuple(lines[job.key] for job in waiting[:SHOWN_WAITING]),
        more_waiting=max(0, len(waiting) - SHOWN_WAITING),
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


def _open_jobs() -> list[Job]:
    return list(
        Job.objects.filter(
            kind__in=IN_HOUSE,
            state__in=(State.OPEN, State.UNDER_WAY),
            build__left_out=False,
        ).select_related("build", "person")
    )


def _lines(
    jobs: Iterable[Job], planned: Mapping[str, Facts], today: set[str]
) -> dict[str, BenchJob]:
    jobs = list(jobs)
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


def _start(planned: Facts) -> str:
    return str(planned.get("planned_start") or "9")


def _is_theirs(job: Job, person: Person, planned: Mapping[str, Facts]) -> bool:
    if job.person_id is not None:
        return bool(job.person_id == person.pk)
    return person.key in planned.get(job.key, {}).get("who", ())


def _is_theirs_now(job: Job, person: Person, planned: Mapping[str, Facts]) -> bool:
    return job.state == State.UNDER_WAY and _is_theirs(job, person, planned)


def _next(
    jobs: Iterable[Job], lines: Mapping[str, BenchJob], person: Person, today: list[str]
) -> list[str]:
    """Give what is planned for them today, then what they could take on as well."""
    trades = {one.trade: one.level or ALONE for one in person.trades.all()}
    clear = [job for job in jobs if lines[job.key].condition == "clear"]
    keys = {job.key for job in clear}
    first = [key for key in today if key in keys]
    also = [
        job.key
        for job in clear
        if job.key not in first
        and job.person_id in (None, person.pk)
        and job.trade is not None
        and trades.get(job.trade, 0) >= (job.trade_level or ALONE)
    ]
    return first + also
