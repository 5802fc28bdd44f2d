"""What comes before or after some jobs, read car by car: links seldom leave a car.

Only numbers are read, and only of the cars that are reached, so it costs the same
however many cars there are.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TypeVar

from django.db.models import Model, Q, QuerySet

from builds.models import ConsignmentJob, Job, Link

Steps = dict[int, list[tuple[int, str]]]
Cars = dict[int, int | None]
Row = TypeVar("Row", bound=Model)


@dataclass(slots=True)
class Order:
    """Jobs by number: what each is tied to and how, and who travels together.

    `reached` is where the steps lead from the jobs that were asked for; without
    consignments one of these is in it only if a ring leads back to it.
    """

    steps: Steps = field(default_factory=dict)
    loads: dict[int, list[int]] = field(default_factory=dict)
    reached: set[int] = field(default_factory=set)


def order_before(jobs: Iterable[int], *, together: bool = False) -> Order:
    """Give all that these jobs wait for, with `together` through consignments too."""
    return _walk(set(jobs), ("job", "before"), together=together)


def order_after(jobs: Iterable[int]) -> Order:
    """Give all that waits for these jobs."""
    return _walk(set(jobs), ("before", "job"), together=False)


def _walk(front: set[int], ends: tuple[str, str], *, together: bool) -> Order:
    order = Order()
    car_of: Cars = dict(Job.objects.filter(pk__in=front).values_list("pk", "build_id"))
    mates: dict[int, list[int]] = {}
    read: set[int | None] = set()
    seen = set(front)
    while front:
        new = {car_of[pk] for pk in front} - read
        if new:
            read |= new
            _read_steps(order.steps, car_of, new, ends)
            if together:
                _read_loads(order.loads, mates, car_of, new)
        there = {far for pk in front for far, _ in order.steps.get(pk, ())}
        there.update(mate for pk in front for mate in mates.get(pk, ()))
        order.reached |= there
        front = there - seen
        seen |= front
    loads = order.loads.items()
    order.loads = {load: jobs for load, jobs in loads if not seen.isdisjoint(jobs)}
    return order


def _read_steps(
    steps: Steps, car_of: Cars, cars: set[int | None], ends: tuple[str, str]
) -> None:
    near, far = ends
    rows = _of_cars(Link.objects.all(), cars, near)
    facts = (f"{near}_id", f"{far}_id", "kind", f"{far}__build_id")
    for here, there, kind, car in rows.values_list(*facts):
        steps.setdefault(here, []).append((there, kind))
        car_of[there] = car


def _read_loads(
    loads: dict[int, list[int]],
    mates: dict[int, list[int]],
    car_of: Cars,
    cars: set[int | None],
) -> None:
    """Read the consignments that carry anything of some cars."""
    ours = _of_cars(ConsignmentJob.objects.all(), cars, "job")
    rows = ConsignmentJob.objects.filter(consignment__in=ours.values("consignment"))
    fresh: dict[int, list[int]] = {}
    for load, pk, car in rows.values_list("consignment_id", "job_id", "job__build_id"):
        fresh.setdefault(load, []).append(pk)
        car_of[pk] = car
    loads |= fresh
    mates |= {pk: carried for carried in fresh.values() for pk in carried}


def _of_cars(rows: QuerySet[Row], cars: set[int | None], job: str) -> QuerySet[Row]:
    """Give what belongs to jobs of these cars; None stands for those of no car."""
    known = Q(**{f"{job}__build__in": cars - {None}})
    none = Q(**{f"{job}__build": None}) if None in cars else Q()
    return rows.filter(known | none)
