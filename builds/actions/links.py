"""What waits for what."""

from __future__ import annotations

from django.db import transaction

from builds.actions.errors import Refused, RingFound
from builds.actions.record import record
from builds.models import Job, Link, LinkKind, User, Workshop
from builds.planning.rules import find_ring


@transaction.atomic
def add_link(
    *,
    by: User,
    job: Job,
    before: Job,
    kind: str = LinkKind.AFTER,
    wait_days: float = 0.0,
    wait_hours: float = 0.0,
) -> Link:
    """Let a job wait for another; a ring is refused, with the jobs in it."""
    check_no_ring(job, before, kind)
    link = Link.objects.create(
        job=job, before=before, kind=kind, wait_days=wait_days, wait_hours=wait_hours
    )
    record(by=by, verb="added link", subject=job, job=job, after=_facts(link))
    return link


@transaction.atomic
def remove_link(*, by: User, link: Link) -> Job:
    """Let a job no longer wait for another."""
    job = link.job
    before = _facts(link)
    link.delete()
    record(by=by, verb="removed link", subject=job, job=job, before=before)
    return job


def check_no_ring(job: Job, before: Job, kind: str) -> None:
    """Refuse a link that is there already, or that would close a ring."""
    order_alone()
    ring = find_ring(job=job, after=before)
    if ring:
        raise RingFound(ring)
    if Link.objects.filter(job=job, before=before, kind=kind).exists():
        raise Refused(f"“{job}” already waits for “{before}”.")


def order_alone() -> None:
    """Let nobody else change what waits for what until this is done.

    Two people could each add half of a ring, and neither would see the other's.
    """
    Workshop.objects.select_for_update().filter(pk=1).first()


def _facts(link: Link) -> dict[str, object]:
    return {
        "before": link.before.key,
        "link": str(link.kind),
        "wait_days": link.wait_days,
        "wait_hours": link.wait_hours,
    }
