"""What stands before a job, asked before anybody starts it."""

from __future__ import annotations

from collections.abc import Iterable

from builds.actions.errors import NotReady, Refused
from builds.models import Job, Kind, LinkKind, State
from builds.planning.waits import wait_ends
from builds.selectors.order import Steps, order_after, order_before

READ = ("key", "title", "kind", "state", "build__left_out")


def check_may_begin(job: Job) -> None:
    """Refuse while something before the job is open, a wait runs, or a check is due."""
    if job.build is not None and job.build.left_out:
        raise Refused(f"{job.build} is left out. Put the car back in first.")
    steps, jobs = _everything_before(job)
    waits_for = _open_before(job, steps, jobs)
    if waits_for:
        raise NotReady(
            f"“{job}” waits for {named(waits_for)}.", [one.key for one in waits_for]
        )
    if job.commitment:
        _check_commitment(job, jobs)
    ends = wait_ends(job.key)
    if ends is not None:
        raise Refused(f"“{job}” must wait until {ends:%a %-d %b, %H:%M}.")


def check_may_end(job: Job) -> None:
    """Refuse while a job this one may not finish before is open."""
    steps, jobs = _everything_before(job)
    waits_for = [
        jobs[pk]
        for pk, kind in steps.get(job.pk, [])
        if kind == LinkKind.BY and jobs[pk].state in (State.OPEN, State.UNDER_WAY)
    ]
    if waits_for:
        raise NotReady(
            f"“{job}” may not finish before {named(waits_for)}.",
            [one.key for one in waits_for],
        )


def commitments_waiting_for(job: Job) -> list[Job]:
    """Give the open jobs that cannot be undone and that this one stands before."""
    reached = order_after([job.pk]).reached
    return list(Job.objects.filter(pk__in=reached, commitment=True, state=State.OPEN))


def open_checks_before(job: Job) -> list[Job]:
    """Give the checks (trial fits among them) anywhere before it, not passed yet."""
    _, jobs = _everything_before(job)
    return [
        one
        for one in jobs.values()
        if one.kind == Kind.CHECK and one.state != State.DONE and not _is_out(one)
    ]


def started_after(job: Job, kinds: Iterable[str] = (LinkKind.AFTER,)) -> list[Job]:
    """Give the jobs that wait for this one (its end, as a rule) and have begun."""
    begun = Job.objects.filter(
        links__before=job,
        links__kind__in=list(kinds),
        state__in=(State.UNDER_WAY, State.DONE),
    )
    return list(begun.distinct())


def _everything_before(job: Job) -> tuple[Steps, dict[int, Job]]:
    """Give all that comes before it, of each job no more than is asked here."""
    order = order_before([job.pk])
    jobs = Job.objects.select_related("build").only(*READ)
    return order.steps, jobs.in_bulk(list(order.reached))


def _open_before(job: Job, steps: Steps, jobs: dict[int, Job]) -> list[Job]:
    """Give what the job itself waits for; what is left out passes the order on."""
    found: dict[int, Job] = {}
    seen: set[tuple[int, str]] = set()
    todo = list(steps.get(job.pk, []))
    while todo:
        pk, kind = todo.pop(0)
        if (pk, kind) in seen:
            continue
        seen.add((pk, kind))
        before = jobs[pk]
        if _is_out(before):
            todo.extend(steps.get(pk, []))
        elif not _lets_begin(before, kind):
            found[pk] = before
    return list(found.values())


def _is_out(job: Job) -> bool:
    return job.state == State.LEFT_OUT or (job.build is not None and job.build.left_out)


def _lets_begin(before: Job, kind: str) -> bool:
    if kind == LinkKind.BY or before.state == State.DONE:
        return True
    return kind == LinkKind.WITH and before.state == State.UNDER_WAY


def _check_commitment(job: Job, jobs: dict[int, Job]) -> None:
    """Refuse what cannot be undone until every check before it is passed."""
    unpassed = [
        one
        for one in jobs.values()
        if one.kind == Kind.CHECK and one.state != State.DONE
    ]
    if unpassed:
        raise NotReady(
            f"“{job}” cannot be undone, and {named(unpassed)} has not been passed.",
            [one.key for one in unpassed],
        )


def named(rows: Iterable[object]) -> str:
    """Name some rows, the first few of many."""
    names = [f"“{one}”" for one in rows]
    if len(names) > 3:
        return f"{', '.join(names[:3])} and {len(names) - 3} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)
