"""Bought-in parts: how far each order is, and what one car owes another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from builds.models import Build, Job, Kind, State
from builds.selectors.answers import Facts, planned_now
from builds.selectors.bench import condition_of
from builds.selectors.morning_lines import car_of, title_of

OPEN = (State.OPEN, State.UNDER_WAY)


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One part on order."""

    key: str
    title: str
    car: str
    supplier: str
    state: str
    condition: str
    ordered: date | None
    promised: date | None
    overdue: bool


@dataclass(frozen=True, slots=True)
class OwedLine:
    """A part to be put back on the car it was robbed from."""

    key: str
    title: str
    car: str
    taker: str


@dataclass(frozen=True, slots=True)
class OrdersPage:
    """Every open order, and everything owed."""

    orders: tuple[OrderLine, ...]
    owed: tuple[OwedLine, ...]


def order_words(job: Job) -> str:
    """Say how far an order is."""
    if job.state == State.DONE:
        return "In"
    if job.sent is None:
        under_way = job.state == State.UNDER_WAY
        return "Ordered, day not noted" if under_way else "To order"
    said = []
    if job.pieces and job.pieces_back:
        said.append(f"short, {job.pieces_back} of {job.pieces} in")
    if job.pieces_wrong:
        said.append(f"{job.pieces_wrong} came wrong")
    if job.back_order:
        said.append("on back-order")
    if not said:
        said.append("acknowledged" if job.acknowledged else "ordered, not acknowledged")
    words = ", ".join(said)
    return words[:1].upper() + words[1:]


def orders_page(today: date) -> OrdersPage:
    """Give the open orders, those to be ordered last."""
    asked = Job.objects.filter(kind=Kind.ORDER, state__in=OPEN)
    rows = asked.exclude(build__left_out=True).select_related("build", "vendor")
    jobs = list(rows)
    planned = planned_now([job.key for job in jobs])
    lines = [_line(job, planned.get(job.key, {}), today) for job in jobs]
    lines.sort(key=lambda one: (one.ordered is None, one.promised or date.max))
    owed = Job.objects.filter(robbed_for__isnull=False, state__in=OPEN)
    return OrdersPage(
        tuple(lines),
        tuple(
            OwedLine(job.key, title_of(job), car_of(job), str(job.robbed_for))
            for job in owed.select_related("build", "robbed_for")
        ),
    )


def donors(order: Job) -> tuple[Build, ...]:
    """Give the cars a part could be robbed from."""
    cars = Build.objects.filter(left_out=False)
    if order.build is not None:
        cars = cars.exclude(pk=order.build.pk)
    return tuple(cars.order_by("rank", "position"))


def open_jobs_of(cars: tuple[Build, ...]) -> tuple[Job, ...]:
    """Give the open jobs of some cars, which could wait for a part put back."""
    jobs = Job.objects.filter(build__in=cars, state=State.OPEN)
    return tuple(jobs.select_related("build"))


def _line(job: Job, facts: Facts, today: date) -> OrderLine:
    return OrderLine(
        key=job.key,
        title=title_of(job),
        car=car_of(job),
        supplier=job.holder or str(job.vendor or "supplier not noted"),
        state=order_words(job),
        condition=condition_of(job, facts, held=facts.get("condition") == "waiting"),
        ordered=job.sent,
        promised=job.promised,
        overdue=bool(job.sent and job.promised and job.promised < today),
    )
