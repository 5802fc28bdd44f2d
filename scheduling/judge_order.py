"""The judge on order in time: now, links and waits, checks, consignments."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time, timedelta

from scheduling.errors import Fault
from scheduling.judge_case import Case, Claim, begun, fault, live
from scheduling.plan import Job, Link

QUARTER = timedelta(minutes=15)


def out_of_order(case: Case) -> Iterator[Fault]:
    """Yield every job that runs before something that has to come first."""
    for claim in case.claims.values():
        yield from _too_soon(case, claim)
        yield from _links(case, claim)
        if claim.job.commitment and not begun(claim.job):
            yield from _checks(case, claim)
    yield from _consignments(case)


def _too_soon(case: Case, claim: Claim) -> Iterator[Fault]:
    job = claim.job
    if claim.start < case.plan.now:
        yield fault(job, "starts before now")
    if claim.finish < claim.start:
        yield fault(job, "ends before it starts")
    if job.not_before and not begun(job) and claim.start < job.not_before:
        yield fault(job, f"starts before {job.not_before:%Y-%m-%d %H:%M}")
    counted_in = job.pieces and job.pieces_back >= job.pieces
    if job.promised and not counted_in and claim.finish.date() < job.promised:
        yield fault(job, f"is back before the date promised, {job.promised}")


def _links(case: Case, claim: Claim) -> Iterator[Fault]:
    for link in claim.job.after:
        if begun(claim.job) and link.kind != "by":
            continue
        mine = claim.finish if link.kind == "by" else claim.start
        for gate, wait_from in _gates(case, link):
            if wait_from is not None and not _waited(case, wait_from, mine, gate):
                yield fault(claim.job, f"does not wait for “{link.job}” as it has to")
                break


def _gates(case: Case, link: Link) -> Iterator[tuple[list[Link], datetime | None]]:
    """Yield chains of waits and the moment each begins; left-out jobs pass it on."""
    before = case.jobs[link.job]
    if before.state == "left out":
        for further in before.after:
            for chain, moment in _gates(case, further):
                yield [*chain, link], moment
    elif before.state == "done":
        moment = before.started if link.kind == "with" else before.finished
        yield [link], None if link.kind == "by" else moment
    elif before.id in case.claims:
        claim = case.claims[before.id]
        yield [link], claim.start if link.kind == "with" else claim.finish


def _waited(case: Case, moment: datetime, mine: datetime, chain: list[Link]) -> bool:
    """Return whether `mine` comes after every wait of a chain that began at moment."""
    for place, link in enumerate(chain):
        moment += timedelta(hours=link.wait_hours)
        if not link.wait_days:
            continue
        if place == len(chain) - 1:
            return moment <= mine and _days_over(case, moment, mine, link.wait_days)
        if not _days_over(case, moment, mine, link.wait_days):
            return False
        moment = _after_days(case, moment, mine, link.wait_days)
    return moment <= mine


def _days_over(case: Case, moment: datetime, mine: datetime, days: float) -> bool:
    return case.days.days(case.days.shop, moment, mine) >= days - 1e-6


def _after_days(case: Case, moment: datetime, mine: datetime, days: float) -> datetime:
    """Return the first quarter by which `days` working days have passed."""
    later = moment
    while later < mine and not _days_over(case, moment, later, days):
        later += QUARTER
    return later


def _checks(case: Case, claim: Claim) -> Iterator[Fault]:
    for before in _everything_before(case, claim.job):
        other = case.claims.get(before)
        if other and other.job.kind == "check" and claim.start < other.finish:
            yield fault(
                claim.job, f"cannot be undone and starts before check “{before}” ends"
            )


def _everything_before(case: Case, job: Job) -> set[str]:
    found: set[str] = set()
    todo = [job]
    while todo:
        one = todo.pop()
        for link in one.after:
            before = case.jobs[link.job]
            held = not begun(one) or link.kind == "by"
            if held and before.state != "done" and before.id not in found:
                found.add(before.id)
                todo.append(before)
    return found


def _consignments(case: Case) -> Iterator[Fault]:
    for one in case.plan.consignments:
        together = [
            case.claims[job]
            for job in one.jobs
            if job in case.claims and live(case.jobs[job]) and not begun(case.jobs[job])
        ]
        for claim in together[1:]:
            if (claim.start, claim.finish) != (together[0].start, together[0].finish):
                yield fault(claim.job, f"does not go and come back with “{one.id}”")
        leaves = one.leaves or datetime.combine(case.plan.now.date(), time())
        for claim in together:
            if claim.start < leaves:
                yield fault(claim.job, f"leaves before “{one.id}” does")
