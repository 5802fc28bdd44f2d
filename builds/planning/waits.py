"""Working days and waits, counted on the engine's own calendars."""

from __future__ import annotations

from dataclasses import replace
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
    plan = build_plan(trails=False, only=[one.before_id for one in waits])
    # The clocks reach back to what was sent, so to the end of the work as well.
    ended = [(job, job.finished) for job in plan.jobs if job.finished]
    jobs = tuple(replace(job, sent=at.date()) for job, at in ended)
    clocks = clocks_for(replace(plan, jobs=jobs))
    ends = max(_end(clocks, one) for one in waits)
    return ends if ends > plan.now else None


def _end(clocks: Clocks, link: Link) -> datetime:
    finished = clocks.timeline.quarter(link.before.finished)
    waited = clocks.shop().add_days(finished, link.wait_days)
    return clocks.timeline.moment(waited) + timedelta(hours=link.wait_hours)


class VendorDays:
    """Counts one vendor's working days; reads it once, however much is asked."""

    def __init__(self, vendor_key: str) -> None:
        theirs = Job.objects.filter(vendor__key=vendor_key, sent__isnull=False)
        only = list(theirs.values_list("pk", flat=True))
        self._plan, self._vendor = build_plan(trails=False, only=only), vendor_key
        self._clocks = clocks_for(self._plan)
        self._clock = self._clocks.of(frozenset({f"vendor:{vendor_key}"}))

    def taken(self, first: date, last: date) -> float:
        """Give the working days after the first day, to the end of the last.

        At least one: a part back the day it went took a day of theirs.
        """
        return max(1.0, self._between(_after(first), _after(last)))

    def waited(self, job: Job) -> float:
        """Give the working days a job lay there before they could start.

        They can start on the day they said, or else on the first slot day since it
        left.
        """
        start = job.could_start or self._slot_day(job)
        if job.sent is None or start is None:
            return 0.0
        return max(0.0, self._between(_after(job.sent), start))

    def _between(self, first: date, last: date) -> float:
        """Give the working days from the beginning of one day to that of another."""
        begun, over = (
            self._clock.days_worked(
                self._clocks.timeline.quarter(datetime.combine(day, time()))
            )
            for day in (first, last)
        )
        return over - begun

    def _slot_day(self, job: Job) -> date | None:
        """Give the first slot day after a job left, where the vendor has slots."""
        if job.sent is None or not job.slot:
            return None
        timeline = self._clocks.timeline
        days = slot_days(self._plan, self._clocks).get(self._vendor, ())
        slots = (timeline.moment(float(day * PER_DAY)).date() for day in days)
        return next((day for day in slots if day >= job.sent), None)


def _after(day: date) -> date:
    return day + timedelta(days=1)
