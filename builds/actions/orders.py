"""Bought-in parts: acknowledged, on back-order, arrived short or wrong."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.outside import book_back
from builds.actions.record import change, change_and_record, check_sane
from builds.actions.work import locked
from builds.models import Job, Kind, Promise, State, User, Workshop

STILL_OPEN = (State.OPEN, State.UNDER_WAY)


@transaction.atomic
def acknowledge_order(
    *, by: User, job: Job, day: date | None = None, promised: date | None = None
) -> Job:
    """Keep that the supplier has taken the order, and the date with it if any."""
    job = _ordered(job)
    today = Workshop.current().clock().date()
    fields: dict[str, Any] = {"acknowledged": day or today, "back_order": False}
    if promised is not None:
        fields["promised"] = promised
        _promise(by, job, promised, day or today, "Order acknowledged")
    return change_and_record(job, fields, by=by, verb="acknowledged order")


@transaction.atomic
def put_on_back_order(
    *, by: User, job: Job, promised: date | None = None, said: str = ""
) -> Job:
    """Keep that the supplier has none; the date before no longer stands."""
    job = _ordered(job)
    check_sane(said)
    _promise(by, job, promised, Workshop.current().clock().date(), said)
    fields = {"back_order": True, "promised": promised}
    return change_and_record(job, fields, by=by, verb="back order", words=said)


@transaction.atomic
def receive_order(
    *, by: User, job: Job, good: int, wrong: int = 0, words: str = ""
) -> Job:
    """Count an order in: what is good, all told, and what is wrong.

    With all of it good the order is done. Otherwise it stays open for the rest, and a
    date that has passed no longer stands.
    """
    job = _ordered(job)
    ordered = job.pieces if job.pieces is not None else good + wrong
    if not good + wrong:
        raise Refused("Count what came: one piece at least.")
    if good + wrong > ordered:
        raise Refused(f"{ordered} were ordered; {good + wrong} cannot have come.")
    if good < job.pieces_back:
        raise Refused(f"{job.pieces_back} are in already. Count all told.")
    if good == ordered:
        if job.pieces_wrong:
            change(job, {"pieces_wrong": 0})
        return book_back(by=by, job=job, words=words)
    fields: dict[str, Any] = {
        "pieces": ordered,
        "pieces_back": good,
        "pieces_wrong": wrong,
        "back_order": False,
    }
    today = Workshop.current().clock().date()
    if job.promised is not None and job.promised <= today:
        fields["promised"] = None
    return change_and_record(job, fields, by=by, verb="received order", words=words)


def _ordered(job: Job) -> Job:
    job = locked(job)
    if job.kind != Kind.ORDER:
        raise Refused(f"“{job}” is not a part on order.")
    if job.sent is None or job.state not in STILL_OPEN:
        raise Refused(f"“{job}” is not on order: say first when it was ordered.")
    return job


def _promise(by: User, job: Job, day: date | None, given: date, said: str) -> None:
    Promise.objects.create(job=job, date=day, given=given, by=str(by), said=said)
