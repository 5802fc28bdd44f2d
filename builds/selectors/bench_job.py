"""One job as the person at the bench needs it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from builds.cautions import STANDING_NOTE, Caution, cautions_for
from builds.models import Event, Job, Kind, Person, State, User
from builds.selectors.answers import planned_now
from builds.selectors.bench import AT_VENDOR, IN_HOUSE, condition_of, held_jobs
from builds.selectors.trades import ALONE, hands_of, may_begin, who_may, who_signs

READ = (  # of what comes before
    *("before__key", "before__title", "before__kind", "before__state"),
    *("before__sent", "before__holder", "before__vendor__key", "before__vendor__name"),
    *("before__person__key", "before__person__name"),
)


@dataclass(frozen=True, slots=True)
class Before:
    """Something this job stands on, and who has it."""

    title: str
    condition: str
    holder: str


@dataclass(frozen=True, slots=True)
class LastWord:
    """What was last said at the bench about this job."""

    by: str
    at: Any
    verb: str
    reason: str
    words: str


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """The job card."""

    key: str
    version: int
    title: str
    car: str
    area: str
    phase: str
    condition: str
    in_house: bool
    is_check: bool
    may_start: bool
    who_may: tuple[str, ...] | None  # who could start it, where the reader may not
    is_out: bool
    hours: float | None
    is_left: bool
    trade: str
    level: int
    people: int
    with_whom: str
    places: tuple[str, ...]
    holder: str
    note: str
    commitment: bool
    unpassed: tuple[str, ...]
    before: tuple[Before, ...]
    reasons: tuple[str, ...]
    signers: tuple[str, ...]
    pieces: int | None
    pieces_back: int
    cautions: tuple[Caution, ...]
    standing_note: str
    said: tuple[LastWord, ...]


def bench_sheet(job: Job, person: Person | None = None) -> BenchSheet:
    """Give everything the bench asks about one job, and whether they may start it."""
    to_start = job.kind in IN_HOUSE and job.state == State.OPEN
    hands = hands_of(job.trade) if job.trade else ()
    may = person is None or may_begin(person, job, hands)
    links = job.links.select_related("before__vendor", "before__person")
    before = [link.before for link in links.only("job", *READ)]
    planned = planned_now([job.key, *(one.key for one in before)])
    mine = planned.get(job.key, {})
    held = held_jobs([job, *before])
    return BenchSheet(
        key=job.key,
        version=job.version,
        title=str(job),
        car=str(job.build or ""),
        area=job.area,
        phase=job.phase,
        condition=condition_of(job, mine, held=job.pk in held),
        in_house=job.kind in IN_HOUSE,
        is_check=job.kind == Kind.CHECK,
        may_start=to_start and may,
        who_may=who_may(job, hands) if to_start and not may else None,
        is_out=_is_out(job),
        hours=job.likely if job.remaining is None else job.remaining,
        is_left=job.remaining is not None,
        trade=job.trade or "",
        level=job.trade_level or ALONE,
        people=job.people,
        with_whom=str(job.person or ""),
        places=tuple(str(place) for place in job.places.all()),
        holder=job.holder,
        note=job.note,
        commitment=job.commitment,
        unpassed=_unpassed(job),
        before=_before(before, planned, held),
        reasons=tuple(mine.get("reasons", ())) if job.state == State.OPEN else (),
        signers=who_signs(hands),
        pieces=job.pieces,
        pieces_back=job.pieces_back,
        cautions=cautions_for(
            job.title, job.kind, job.trade, job.phase, job.note, job.area
        ),
        standing_note=STANDING_NOTE,
        said=_said(job),
    )


def already_said(
    user: User, job: Job, verb: str, reason: str, words: str, **facts: Any
) -> bool:
    """Say whether the newest word about this job is this very one, from them."""
    newest = Event.objects.filter(job=job).first()
    return (
        newest is not None
        and newest.by_id == user.pk
        and (newest.verb, newest.words) == (verb, words)
        and newest.after.get("reason", "") == reason
        and all(getattr(job, name) == value for name, value in facts.items())
    )


def _before(
    jobs: list[Job], planned: Mapping[str, Mapping[str, Any]], held: frozenset[int]
) -> tuple[Before, ...]:
    return tuple(
        Before(
            title=str(one),
            condition=condition_of(one, planned.get(one.key, {}), held=one.pk in held),
            holder=_holder(one),
        )
        for one in jobs
    )


def _unpassed(job: Job) -> tuple[str, ...]:
    """Give the checks that what cannot be undone still waits for."""
    if not job.commitment or job.state != State.OPEN:
        return ()
    checks = Job.objects.filter(
        links_on__job=job,
        kind=Kind.CHECK,
        state__in=(State.OPEN, State.UNDER_WAY),
    )
    return tuple(str(check) for check in checks.distinct())


def _is_out(job: Job) -> bool:
    gone = job.sent is not None or job.state == State.UNDER_WAY
    return job.kind in AT_VENDOR and gone and job.state in (State.OPEN, State.UNDER_WAY)


def _holder(job: Job) -> str:
    if _is_out(job):
        return job.holder or str(job.vendor or "")
    return job.holder or str(job.person or "")


def _said(job: Job) -> tuple[LastWord, ...]:
    spoken = Event.objects.filter(
        job=job, undone=None, verb__in=("stopped job", "reported trouble")
    ).select_related("by")
    return tuple(
        LastWord(
            by=str(one.by or ""),
            at=one.at,
            verb=one.verb,
            reason=one.after.get("reason", ""),
            words=one.words,
        )
        for one in spoken[:3]
    )
