"""Take back a leaving or a counting in: of one job, or of a consignment at one stroke.

The Event holds where every piece and every job stood before. What was parted is put
together again and a step that was made for it goes, if nothing has happened since.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import F, Field

from builds.actions.claim import acts_on
from builds.actions.consignment_leaves import SENT
from builds.actions.errors import Refused
from builds.actions.goods_in import ONE, TOGETHER
from builds.actions.piece_rows import Where, facts_of, move
from builds.actions.record import change, plain, record
from builds.actions.work import locked
from builds.models import (
    Consignment,
    Event,
    Job,
    PastReturn,
    Piece,
    PieceState,
    State,
    User,
)

Facts = tuple[Mapping[str, Any], Mapping[str, Any]]

SINCE = "Something has happened to “{what}” since. Take that back first."
TAKEN_BACK = "Taken back: it had been written down by mistake."
NOT_FIELDS = ("quoted_days", "actual_days", "piece_rows", "made", "signed")


@transaction.atomic
def undo_consignment_act(*, by: User, consignment: Consignment, event: Event) -> None:
    """Put all that left or came back together where it was before."""
    if event.verb not in (SENT, TOGETHER):
        raise Refused("That is not taken back here.")
    if Event.objects.filter(undoes=event).exists():
        raise Refused("That is taken back already.")
    newest = acts_on(consignment.key).filter(undoes=None, undone=None).first()
    if newest != event:
        raise Refused(SINCE.format(what=consignment))
    for key, was in event.before["jobs"].items():
        job = _job(key)
        put_job_back(by, job, was, event.after["jobs"][key])
    put_pieces_back(by, event)
    touched = list(Job.objects.filter(key__in=event.before["jobs"]))
    fields: dict[str, Any] = {"version": F("version") + 1}
    if event.verb == SENT:
        fields |= {"left": None, "signed": ""}
    Consignment.objects.filter(pk=consignment.pk).update(**fields)
    about = {"consignment": consignment.key}
    record(
        by=by,
        verb="took back",
        subject=event.subject,
        before=about,
        after=about,
        touched=touched,
        undoes=event,
    )


def uncount(by: User, job: Job, event: Event) -> Facts:
    """Take back that the pieces of one job were counted in."""
    assert event.verb == ONE
    was = {k: v for k, v in event.before.items() if k not in NOT_FIELDS}
    facts = put_job_back(by, job, was, event.after)
    put_pieces_back(by, event)
    return facts


def put_job_back(
    by: User, job: Job, was: Mapping[str, Any], now: Mapping[str, Any]
) -> Facts:
    """Put a job's fields back if they are still as the act left them."""
    held = plain({name: getattr(job, name) for name in was})
    if any(held[name] != now[name] for name in was):
        raise Refused(SINCE.format(what=job))
    begun = job.links_on.filter(job__state__in=(State.UNDER_WAY, State.DONE))
    if job.state == State.DONE and was.get("state") and begun.exists():
        later = begun.select_related("job")[0].job
        raise Refused(f"“{later}” has begun on top of it. Take that back first.")
    _forget_return(job, now)
    return change(job, {name: _value(name, was[name]) for name in was})


def _value(name: str, value: Any) -> Any:
    field = Job._meta.get_field(name)
    assert isinstance(field, Field)
    return field.to_python(value)


def put_pieces_back(by: User, event: Event) -> None:
    """Put pieces together again, where they were; steps made for them go."""
    was, now = event.before["piece_rows"], event.after["piece_rows"]
    rows = {one.key: one for one in Piece.objects.filter(key__in=now)}
    if facts_of(rows.values()) != now:
        raise Refused(SINCE.format(what=event.subject))
    made = [_untouched(key) for key in event.after.get("made", ())]
    Piece.objects.filter(key__in=set(now) - set(was)).delete()
    put_rows_back(by, was)
    for job in made:
        job.delete()


def put_rows_back(by: User, was: Mapping[str, Mapping[str, Any]]) -> None:
    """Put pieces where they were; their trails say that it was taken back."""
    rows = {one.key: one for one in Piece.objects.filter(key__in=was)}
    for key, facts in was.items():
        row = rows.get(key)
        if row is None:
            raise Refused("Not everything it was before is still there.")
        row.count, row.name, row.job = facts["count"], facts["name"], _job(facts["job"])
        row.save()
        state = PieceState(facts["state"])
        where = Where(facts["holder"], facts["place"], state, str(by), TAKEN_BACK)
        move([row], where, by)


def _job(key: str) -> Job:
    row = Job.objects.filter(key=key).first()
    if row is None:
        raise Refused("Not everything it was before is still there.")
    return locked(row)


def _untouched(key: str) -> Job:
    job = _job(key)
    if job.version != 1 or Event.objects.filter(job=job).exists():
        raise Refused(SINCE.format(what=job))
    if job.consignments.exists():
        raise Refused(f"“{job}” travels in a consignment. Take it out first.")
    return job


def _forget_return(job: Job, now: Mapping[str, Any]) -> None:
    if "quoted_days" not in now:
        return
    kept = PastReturn.objects.filter(
        vendor=job.vendor,
        quoted_days=now["quoted_days"],
        actual_days=now["actual_days"],
    ).last()
    if kept is not None:
        kept.delete()
