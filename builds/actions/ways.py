"""Ways to get a job done, and the one that is picked."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils.text import slugify

from builds.actions.errors import Refused
from builds.actions.record import change_and_record, record, set_checked
from builds.actions.work import locked
from builds.models import Job, Kind, State, User, Way

MADE_BY = (Kind.BENCH, Kind.CHECK, Kind.OUTSIDE, Kind.ORDER)
TAKEN = ("kind", "vendor", "trade", "trade_level", "low", "likely", "high", "fixed")


@transaction.atomic
def add_way(*, by: User, job: Job, name: str, kind: str, **fields: Any) -> Way:
    """Add a way a job could be done in."""
    job = locked(job)
    check_choosable(job)
    way = Way(job=job, key=_key(job, name))
    set_checked(way, {"name": name, "kind": kind, **fields})
    way.save()
    after = {"way": way.name, "kind": kind}
    record(by=by, verb="added way", subject=job, job=job, after=after)
    return way


@transaction.atomic
def remove_way(*, by: User, way: Way) -> Job:
    """Take a way away again; never the one that is picked."""
    job = locked(way.job)
    if job.way == way.key:
        raise Refused(f"“{way}” is the way it is done. Pick another first.")
    before = {"way": way.name, "kind": way.kind}
    way.delete()
    record(by=by, verb="removed way", subject=job, job=job, before=before)
    return job


@transaction.atomic
def pick_way(*, by: User, way: Way, words: str = "") -> Job:
    """Let a job be done in one of its ways from here on."""
    job = locked(way.job)
    check_choosable(job)
    fields: dict[str, Any] = {name: getattr(way, name) for name in TAKEN}
    fields |= {"way": way.key, "rework_chance": way.spoil_chance}
    if way.kind in (Kind.OUTSIDE, Kind.ORDER):
        fields |= {"person": None}
    return change_and_record(job, fields, by=by, verb="picked way", words=words)


def check_choosable(job: Job) -> None:
    """Refuse to choose how a job is done that has begun, or is not done by choice."""
    if job.kind not in MADE_BY:
        raise Refused(f"“{job}” is not done in one way or another.")
    if job.state != State.OPEN or job.sent is not None:
        raise Refused(f"“{job}” has begun, is done or is left out.")


def _key(job: Job, name: str) -> str:
    stem = slugify(name)[:80] or "way"
    taken = set(job.ways.values_list("key", flat=True))
    numbered = (f"{stem}-{number}" for number in range(2, len(taken) + 3))
    return next(key for key in [stem, *numbered] if key not in taken)
