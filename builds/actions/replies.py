"""Dates vendors put in by their own link: the lead says yes or no."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.promises import record_promise
from builds.actions.record import check_sane, record
from builds.actions.work import locked
from builds.models import (
    Job,
    Promise,
    ReplyState,
    State,
    User,
    VendorLink,
    VendorReply,
    Workshop,
)

BY_LINK = "By their own link"
OUT = (State.OPEN, State.UNDER_WAY)


@transaction.atomic
def put_in_date(
    *,
    link: VendorLink,
    job: Job,
    day: date | None,
    said: str = "",
    speaker: str = "",
) -> VendorReply:
    """Keep a date for the lead to decide on; the one before it no longer waits."""
    job = locked(job)
    if job.vendor_id != link.vendor_id or not is_with_them(job):
        raise Refused("That is not with you any more.")
    for words in (said, speaker):
        check_sane(words)
    job.replies.filter(state=ReplyState.OPEN).update(state=ReplyState.REPLACED)
    reply = VendorReply.objects.create(
        link=link,
        job=job,
        date=day,
        said=said,
        speaker=speaker,
        given=Workshop.current().clock().date(),
    )
    record(
        by=None,
        verb="put in date",
        subject=link.vendor,
        after={"job": job.key, "date": day, "speaker": speaker},
        words=said,
        planned=False,
    )
    return reply


@transaction.atomic
def accept_reply(*, by: User, reply: VendorReply) -> Promise:
    """Take a date down as promised."""
    reply = _held(reply)
    job = locked(reply.job)
    if not is_with_them(job):
        raise Refused(f"“{job}” is not with them any more.")
    _decide(reply, ReplyState.ACCEPTED)
    return record_promise(
        by=by,
        job=job,
        promised=reply.date,
        said=reply.said,
        given=reply.given,
        asked=BY_LINK,
        speaker=reply.speaker,
    )


@transaction.atomic
def refuse_reply(*, by: User, reply: VendorReply, words: str = "") -> VendorReply:
    """Leave the date that stands."""
    reply = _held(reply)
    _decide(reply, ReplyState.REFUSED)
    record(
        by=by,
        verb="refused date",
        subject=reply.job,
        job=reply.job,
        after={"promised": reply.date, "given": reply.given},
        words=words or reply.said,
        planned=False,
    )
    return reply


def is_with_them(job: Job) -> bool:
    """Say whether a job is out at its vendor now."""
    return job.sent is not None and job.state in OUT


def _held(reply: VendorReply) -> VendorReply:
    held = VendorReply.objects.select_for_update(of=("self",)).select_related(
        "job", "link__vendor"
    )
    reply = held.get(pk=reply.pk)
    if reply.state != ReplyState.OPEN:
        raise Refused("That date has been decided on already, or a newer one came.")
    return reply


def _decide(reply: VendorReply, state: ReplyState) -> None:
    reply.state = state
    reply.save(update_fields=["state"])
