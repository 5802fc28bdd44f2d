"""A step of its own for what did not come back as it should.

Nothing is closed as a whole by mistake: the good pieces stay with the old step, the
others go on in a new one with its own range, and what waited waits for it.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from builds.actions.counting import Again
from builds.actions.record import create
from builds.models import Job, Link, LinkKind, Piece, PieceState, State, Workshop

WORDS = {
    PieceState.REJECTED: "{count} rejected, to be done again",
    PieceState.MISSING: "{count} missing, to be found or made again",
    PieceState.OUT: "{count} still to come",
}
ALIKE = (
    *("build", "vendor", "kind", "level", "phase", "area", "commitment", "safety"),
    *("needed_by", "rework_chance"),
)


def waiting_for(job: Job) -> list[Link]:
    """Give the links of the jobs that wait for this one and have not begun."""
    links = job.links_on.filter(job__state=State.OPEN, job__sent=None)
    return list(links.select_related("job"))


def made_and_waiting(keys: Collection[str]) -> list[Job]:
    """Give the steps that were made, by their keys, and what waits for them."""
    made = list(Job.objects.filter(key__in=keys))
    return [*made, *Job.objects.filter(links__before__in=made).distinct()]


def fresh_step(
    job: Job,
    pieces: list[Piece],
    state: PieceState,
    again: Again,
    waits: frozenset[str] | None,
) -> Job:
    """Make the step, hand it the pieces, and let what waited wait for it too."""
    count = sum(one.count for one in pieces)
    title = f"{job}: {WORDS[state].format(count=count)}"
    fields = {name: getattr(job, name) for name in ALIKE}
    fields |= {"title": title, "pieces": count} | _range(job, again)
    fields |= _still_there(job, state)
    row = create(Job, f"{job.key} again", fields)
    for one in pieces:
        one.job = row
    for link in waiting_for(job):
        if waits is None or link.job.key in waits:
            Link.objects.create(job=link.job, before=row, kind=LinkKind.AFTER)
    if state == PieceState.OUT:
        for said in job.promises.all():
            said.pk, said.job = None, row
            said.save(force_insert=True)
    return row


def _range(job: Job, again: Again) -> dict[str, Any]:
    if again.likely is None:
        return {name: getattr(job, name) for name in ("low", "likely", "high", "fixed")}
    return {"low": again.low, "likely": again.likely, "high": again.high}


def _still_there(job: Job, state: PieceState) -> dict[str, Any]:
    """Say since when the vendor has it; what is rejected has to go out first."""
    now = Workshop.current().clock()
    if state == PieceState.REJECTED:
        return {}
    if state == PieceState.MISSING:
        return {"state": State.UNDER_WAY, "started": now, "sent": now.date()}
    return {
        "state": State.UNDER_WAY,
        "started": job.started or now,
        "sent": job.sent,
        "promised": job.promised,
    }
