"""How long begun work has been going, and the date a vendor promised."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from scheduling.calendars import Clocks
from scheduling.habits import habit
from scheduling.plan import Job, Plan
from scheduling.timeline import PER_DAY
from scheduling.working_time import Clock


@dataclass(frozen=True, slots=True)
class PromisedReturn:
    """A part away with a date promised: base moment, quoted days, its habit."""

    base: float
    quoted_days: float
    median: float
    log_sd: float
    due: float


def spent_of(
    job: Job, clock: Clock, clocks: Clocks, now: float, in_days: bool
) -> float:
    """Return how much of a begun job has gone by: quarters, or working days."""
    if job.sent is not None:
        since = _left(job, clocks)
    elif job.started is not None:
        since = clocks.timeline.quarter(job.started)
    else:
        return 0.0
    since = max(min(since, now), 0.0)
    if job.could_start is not None:
        since = max(since, min(clocks.timeline.quarter(job.could_start), now))
    if in_days:
        return clock.days_worked(now) - clock.days_worked(since)
    return clock.worked(now) - clock.worked(since)


def _left(job: Job, clocks: Clocks) -> float:
    """Return when something sent left: that evening where only the day is known."""
    sent, started = job.sent, job.started
    if started is not None and sent == started.date():
        return clocks.timeline.quarter(started)
    return clocks.timeline.quarter(sent) + PER_DAY if sent else 0.0


def promise_of(
    job: Job, plan: Plan, clock: Clock, clocks: Clocks, now: float
) -> PromisedReturn | None:
    """Return the promise a part is out on; the newest one counts."""
    back = job.pieces is not None and 0 < job.pieces <= job.pieces_back
    if job.promised is None or job.state in ("left out", "done") or back:
        return None
    due = _close_of(clocks.timeline.quarter(job.promised), clock)
    given = [
        one.given for one in job.promises if one.date == job.promised and one.given
    ]
    base, evening = _told(job, given, clocks, now)
    quoted = max(clock.days_worked(due) - clock.days_worked(max(evening, 0.0)), 1.0)
    vendor = next((one for one in plan.vendors if one.id == job.vendor), None)
    history = vendor.history if vendor else ()
    if plan.reading == "ends" and not history:
        return PromisedReturn(base, quoted, 1.0, 0.0, max(due, now))
    learned = habit(history)
    due = due if due > now else _close_of(now, clock)
    return PromisedReturn(base, quoted, learned.median, learned.log_sd, due)


def _told(
    job: Job, given: list[date], clocks: Clocks, now: float
) -> tuple[float, float]:
    """Return when the days of a promise began to run, and the evening of that day.

    Notes
    -----
    Vendors quote whole days: ten days from Monday is ten days after that Monday,
    whatever the hour it left. So the days are counted from evening to evening and run
    from the hour it left, where that is known. Days on which the vendor could not start
    yet are none of theirs.
    """
    told = [day for day in (job.sent, *given) if day is not None]
    if not told:
        return now, now
    evening = clocks.timeline.quarter(max(told)) + PER_DAY
    base = _left(job, clocks) if max(told) == job.sent else evening
    if job.could_start is None:
        return min(now, base), evening
    morning = clocks.timeline.quarter(job.could_start)
    return max(min(now, base), morning), max(evening, morning)


def _close_of(moment: float, clock: Clock) -> float:
    """Return closing time of the working day a moment falls in, or of the next one."""
    return clock.add_days(moment // PER_DAY * PER_DAY, 1.0)
