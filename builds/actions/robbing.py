"""A part taken from another car, which has to get one back.

order ──► fit it          before: the car waits for its order
fit it                    after: it has the other car's part now,
order ──► put back ──► …  and the order that comes is the other car's
"""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.links import check_no_ring
from builds.actions.record import change, create, record
from builds.actions.work import locked
from builds.models import Build, Job, Kind, Link, LinkKind, State, User

GONE = (State.DONE, State.LEFT_OUT)


@transaction.atomic
def rob_part(
    *,
    by: User,
    order: Job,
    donor: Build,
    hours: float,
    first: Iterable[Job] = (),
    words: str = "",
) -> Job:
    """Take an ordered part from another car; the order is that car's from now on.

    A job to put it back is made on the donor. It waits for the order, and the jobs of
    `first` wait for it; a ring is refused, and nothing is changed.
    """
    order = locked(order)
    _check(order, donor)
    taker = order.build
    put_back = create(
        Job,
        f"Put back {order}",
        {
            "title": f"Put back: {order}",
            "build": donor,
            "kind": Kind.BENCH,
            "likely": hours,
            "robbed_for": taker,
        },
    )
    freed = _free(order, taker)
    _tie(put_back, order)
    held = list(first)
    waiting = [_held_by(job, put_back, donor) for job in held]
    change(order, {"build": donor})
    record(
        by=by,
        verb="robbed part",
        subject=order,
        job=put_back,
        after={
            "robbed_for": taker,
            "order": order.key,
            "no_longer_wait": freed,
            "now_wait": waiting,
        },
        words=words,
        touched=[order, put_back, *held],
    )
    return put_back


def _check(order: Job, donor: Build) -> None:
    if order.kind != Kind.ORDER:
        raise Refused(f"“{order}” is not a part on order.")
    if order.state in GONE:
        raise Refused(f"“{order}” is in, or left out: there is nothing to rob it for.")
    if order.build is None:
        raise Refused(f"“{order}” is for no car, so none can rob another for it.")
    if order.build_id == donor.pk:
        raise Refused("A car cannot rob itself. Choose another.")
    if donor.left_out:
        raise Refused(f"{donor} is left out. Put the car back in first.")


def _free(order: Job, taker: Build | None) -> list[str]:
    """Let the taker's jobs go on: the part is there now."""
    links = order.links_on.filter(job__build=taker).select_related("job")
    freed = [link.job.key for link in links]
    links.delete()
    return freed


def _held_by(job: Job, put_back: Job, donor: Build) -> str:
    job = locked(job)
    if job.build_id != donor.pk or job.state != State.OPEN:
        raise Refused(f"“{job}” is not an open job of {donor}.")
    _tie(job, put_back)
    return job.key


def _tie(job: Job, before: Job) -> None:
    check_no_ring(job, before, LinkKind.AFTER)
    Link.objects.create(job=job, before=before)
