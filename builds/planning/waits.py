"""Working days and waits, counted on the engine's own calendars."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from builds.models import Job, Link, LinkKind
from builds.planning.problem import build_plan
from scheduling.calendars import Clocks
from scheduling.kept_clocks import clocks_for
from scheduling.network import slot_days
from scheduling.timeline import PER_DAY


def wait_ends(job_key: str) -> datetime | None:
    """Give when the job's last wait after finished work ends, if that is to come."""
    links = Link.objects.filter(
        job__key=job_key, kind=LinkKind.AFTER, before__finished__isnull=False
    ).select_related("before")
    waits = [one for one in links if one.wait_days or one.wait_hours]
    if not waits:
        return None
    plan = build_plan(trails=False)
    clocks = clocks_for(plan)
    ends = max(_end(clocks, one) for one in waits)
    return ends if ends > plan.now else None


def _end(clocks: Clocks, link: Link) -> datetime:
    finished = clocks.timeline.quarter(link.before.finished)
    waited = clocks.shop().add_days(finished, link.wait_days)
    return clocks.timeline.moment(waited) + timedelta(hours=link.wait_hours)


def vendor_days(vendor_key: str, first: date, last: date) -> float:
    """Give the vendor's working days after the first day, to the end of the last.

    At least one: a part back the day it went took a day of theirs.
    """
    clocks = clocks_for(build_plan(trails=False))
    clock = clocks.of(frozenset({f"vendor:{vendor_key}"}))
    left, back = (
        clocks.timeline.quarter(datetime.combine(day, time()) + timedelta(days=1))
        for day in (first, last)
    )
    return max(1.0, clock.days_worked(back) - clock.days_worked(left))


def waited_days(job: Job) -> float:
    """Give the vendor's working days a job lay there before they could start.

    They can start on the day they said, or else on the first slot day since it left.
    """
    start = job.could_start or _slot_day(job)
    if job.vendor is None or job.sent is None or start is None:
        return 0.0
    clocks = clocks_for(build_plan(trails=False))
    clock = clocks.of(frozenset({f"vendor:{job.vendor.key}"}))
    left, begun = (
        clocks.timeline.quarter(datetime.combine(day, time()))
        for day in (job.sent + timedelta(days=1), start)
    )
    return max(0.0, clock.days_worked(begun) - clock.days_worked(left))


def _slot_day(job: Job) -> date | None:
    """Give the first slot day after a job left, where the vendor has slots."""
    if job.vendor is None or job.sent is None or not job.slot:
        return None
    plan = build_plan(trails=False)
    timeline = clocks_for(plan).timeline
    days = slot_days(plan, clocks_for(plan)).get(job.vendor.key, ())
    slots = (timeline.moment(float(day * PER_DAY)).date() for day in days)
    return next((day for day in slots if day >= job.sent), None)
