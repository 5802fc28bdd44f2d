"""Outside firms: what is with them, what they promise and how they keep it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from statistics import median

from django.db.models import QuerySet

from builds.models import (
    Job,
    Kind,
    PastReturn,
    State,
    Vendor,
    VendorClosure,
    WorkCalendar,
    Workshop,
)

FEWEST_RETURNS = 3  # fewer say nothing about a habit
OPEN = (State.OPEN, State.UNDER_WAY)


@dataclass(frozen=True, slots=True)
class OutsideLine:
    """A job that goes to a vendor or is there now."""

    key: str
    title: str
    car: str
    sent: date | None
    promised: date | None
    overdue: bool
    slips: int
    pieces: int | None
    pieces_back: int


@dataclass(frozen=True, slots=True)
class Firm:
    """One vendor, for the list."""

    key: str
    name: str
    does: str
    phone: str
    away: int
    to_come: int
    next_promise: date | None
    overdue: bool
    habit: str
    left_out: bool


@dataclass(frozen=True, slots=True)
class VendorPage:
    """One vendor with all that can be changed, open and past work."""

    vendor: Vendor
    calendars: tuple[WorkCalendar, ...]
    now: datetime
    closed: tuple[VendorClosure, ...]
    away: tuple[OutsideLine, ...]
    to_come: tuple[OutsideLine, ...]
    returns: tuple[PastReturn, ...]
    habit: str


def now() -> datetime:
    """Give the time on the workshop's wall."""
    return Workshop.current().clock()


def vendor_rows() -> tuple[Firm, ...]:
    """Give every vendor, in the workshop's order."""
    today = Workshop.current().clock().date()
    jobs: dict[int, list[Job]] = {}
    for job in _open_jobs():
        jobs.setdefault(job.vendor_id or 0, []).append(job)
    rows = Vendor.objects.prefetch_related("history")
    return tuple(_firm(row, jobs.get(row.pk, []), today) for row in rows)


def vendor_page(*, vendor: Vendor) -> VendorPage:
    """Give one vendor's facts, closures, open work and past returns."""
    clock = now()
    jobs = list(_open_jobs().filter(vendor=vendor))
    lines = [(job, _line(job, clock.date())) for job in jobs]
    returns = tuple(vendor.history.order_by("-pk"))
    return VendorPage(
        vendor=vendor,
        calendars=tuple(WorkCalendar.objects.all()),
        now=clock,
        closed=tuple(vendor.closed.order_by("first")),
        away=tuple(line for job, line in lines if job.sent),
        to_come=tuple(line for job, line in lines if not job.sent),
        returns=returns,
        habit=say_habit(returns),
    )


def say_habit(returns: Sequence[PastReturn]) -> str:
    """Say how long a vendor usually takes against what was quoted."""
    if not returns:
        return "no returns yet"
    if len(returns) < FEWEST_RETURNS:
        return f"{len(returns)} returned so far, too few to tell"
    ratio = median(
        (one.actual_days - one.waited_days) / one.quoted_days for one in returns
    )
    if 0.95 <= ratio <= 1.05:
        return f"usually as quoted, {len(returns)} returns"
    return f"usually {ratio:.1f} times the quote, {len(returns)} returns"


def _open_jobs() -> QuerySet[Job]:
    jobs = Job.objects.filter(vendor__isnull=False, state__in=OPEN)
    jobs = jobs.filter(kind__in=(Kind.OUTSIDE, Kind.ORDER))
    return jobs.select_related("build").prefetch_related("promises")


def _firm(vendor: Vendor, jobs: Sequence[Job], today: date) -> Firm:
    away = [job for job in jobs if job.sent]
    promises = [job.promised for job in away if job.promised]
    return Firm(
        key=vendor.key,
        name=str(vendor),
        does=vendor.does,
        phone=vendor.phone.replace(" ", "\u00a0"),
        away=len(away),
        to_come=len(jobs) - len(away),
        next_promise=min(promises, default=None),
        overdue=any(one < today for one in promises),
        habit=say_habit(list(vendor.history.all())),
        left_out=vendor.left_out,
    )


def _line(job: Job, today: date) -> OutsideLine:
    given = {one.date for one in job.promises.all() if one.date}
    return OutsideLine(
        key=job.key,
        title=str(job),
        car=str(job.build) if job.build else "no car",
        sent=job.sent,
        promised=job.promised,
        overdue=bool(job.sent and job.promised and job.promised < today),
        slips=max(0, len(given) - 1),
        pieces=job.pieces,
        pieces_back=job.pieces_back,
    )
