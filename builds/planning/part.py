"""The part of the plan that acts on a few jobs can break.

The jobs themselves in full; in outline what is before them and what travels with
them, since a ring can run through that; and of all else what they name. Whatever
the engine's check finds in the whole plan because of these jobs, it finds in here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import cast

from builds.models import Job, Person, PersonTrade, Place, Workshop
from builds.planning import problem_jobs
from builds.planning.rows import by_owner
from builds.selectors.order import Order, order_before
from scheduling import plan as records


def build_part(touched: Collection[int]) -> records.Plan:
    """Give the part around these jobs, by their numbers."""
    shop = Workshop.current()
    order = order_before(touched, together=True)
    jobs = problem_jobs.jobs(trails=True, only=touched)
    outlines = _outlines(order, touched)
    loads = problem_jobs.consignments(only=order.loads)
    vendors = {job.vendor for job in jobs + outlines} | {one.vendor for one in loads}
    vendors |= {way.vendor for job in jobs for way in job.ways}
    builds = {job.build for job in jobs} | {job.robbed_for for job in jobs}
    return records.Plan(
        now=shop.clock(),
        timezone=shop.timezone,
        levels=tuple(shop.levels),
        people=_people({job.person for job in jobs}),
        places=_places({use.place for job in jobs for use in job.places}),
        vendors=tuple(records.Vendor(key) for key in _named(vendors)),
        builds=tuple(records.Build(key) for key in _named(builds)),
        jobs=jobs + outlines,
        consignments=loads,
    )


def _outlines(order: Order, touched: Collection[int]) -> tuple[records.Job, ...]:
    """Give the jobs around as no more than what waits for what.

    Nothing else is asked of them.
    """
    rows = Job.objects.filter(pk__in=order.reached)
    facts = list(rows.values_list("pk", "key", "kind", "vendor__key"))
    keys = {pk: key for pk, key, _, _ in facts}
    steps = order.steps
    return tuple(
        records.Job(
            id=key,
            kind=cast(records.Kind, kind),
            vendor=vendor,
            state="done",
            after=tuple(_link(keys[there], how) for there, how in steps.get(pk, ())),
        )
        for pk, key, kind, vendor in facts
        if pk not in touched
    )


def _link(key: str, how: str) -> records.Link:
    return records.Link(key, cast(records.LinkKind, how))


def _people(keys: Iterable[str | None]) -> tuple[records.Person, ...]:
    """Give people with their trades: a job may ask for more than they can do."""
    rows = Person.objects.filter(key__in=_named(keys)).values_list("pk", "key")
    able = PersonTrade.objects.filter(person__key__in=_named(keys), level__isnull=False)
    trades = by_owner(able.values_list("person_id", "trade", "level"), lambda *one: one)
    return tuple(records.Person(key, trades=dict(trades[pk])) for pk, key in rows)


def _places(keys: Iterable[str]) -> tuple[records.Place, ...]:
    rows = Place.objects.filter(key__in=_named(keys)).values_list("key", "capacity")
    return tuple(records.Place(key, capacity=capacity) for key, capacity in rows)


def _named(keys: Iterable[str | None]) -> list[str]:
    return sorted({key for key in keys if key is not None})
