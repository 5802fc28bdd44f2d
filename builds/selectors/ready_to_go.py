"""What could leave, firm by firm and across cars, and what each still waits for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby

from django.db.models import QuerySet

from builds.models import Consignment, Job, Kind, Link, LinkKind, State, Vendor

OPEN = (State.OPEN, State.UNDER_WAY)
FEW = 2


@dataclass(frozen=True, slots=True)
class ToGo:
    """A job that goes to a firm; `waits` and `checks` are what is in its way."""

    job: Job
    waits: tuple[str, ...]
    checks: tuple[str, ...]

    @property
    def ready(self) -> bool:
        """Say whether it could leave today."""
        return not self.waits and not self.checks

    @property
    def car(self) -> str:
        """Give the car's name."""
        return str(self.job.build) if self.job.build else "no car"


@dataclass(frozen=True, slots=True)
class SameWay:
    """What goes to one firm and is alike in what a batch there has to be alike in."""

    vendor: str
    alike: tuple[str, ...]
    vendor_key: str
    note: str
    minimum_charge: float | None
    ready: tuple[ToGo, ...]
    coming: tuple[ToGo, ...]
    batches: tuple[Consignment, ...]

    @property
    def cars(self) -> int:
        """Give how many cars the ready jobs are of."""
        return len({one.job.build_id for one in self.ready})


def going_the_same_way() -> tuple[SameWay, ...]:
    """Give every batch that something is ready for, with what is soon to follow."""
    lines = sorted(_to_go(), key=lambda one: (*_way(one.job), one.job.position))
    batches = list(being_made_up())
    found = []
    for _, group in groupby(lines, key=lambda one: _way(one.job)):
        same = tuple(group)
        ready = tuple(one for one in same if one.ready)
        if ready:
            found.append(_same_way(same, ready, batches))
    return tuple(found)


def to_go_of(jobs: Mapping[int, Job]) -> dict[int, ToGo]:
    """Say of each of these jobs what is in its way."""
    steps = _steps()
    every = Job.objects.select_related("build").in_bulk()
    return {pk: _judge(job, steps, every) for pk, job in jobs.items()}


def could_join(vendor_id: int, consignment: Consignment) -> tuple[ToGo, ...]:
    """Give what travels in a consignment or could join it, the ready ones first."""
    jobs = _may_go().filter(vendor_id=vendor_id).prefetch_related("consignments")
    free = {
        one.pk: one
        for one in jobs
        if all(other == consignment for other in one.consignments.all())
    }
    lines = to_go_of(free).values()
    return tuple(sorted(lines, key=lambda one: (not one.ready, one.job.position)))


def could_start(vendor: Vendor) -> tuple[ToGo, ...]:
    """Give what could go into a new consignment for a firm, the ready ones first."""
    jobs = _may_go().filter(vendor=vendor, consignments=None)
    lines = to_go_of({one.pk: one for one in jobs}).values()
    return tuple(sorted(lines, key=lambda one: (not one.ready, one.job.position)))


def being_made_up() -> QuerySet[Consignment]:
    """Give the consignments that have not left."""
    rows = Consignment.objects.filter(left=None).select_related("vendor")
    return rows.prefetch_related("loads__job__build", "loads__job__piece_list")


def _may_go() -> QuerySet[Job]:
    jobs = Job.objects.filter(
        kind=Kind.OUTSIDE, state=State.OPEN, sent=None, vendor__isnull=False
    )
    jobs = jobs.exclude(build__left_out=True)
    return jobs.select_related("build", "vendor").prefetch_related("piece_list")


def _to_go() -> list[ToGo]:
    jobs = _may_go().filter(consignments=None)
    return list(to_go_of({one.pk: one for one in jobs}).values())


def _way(job: Job) -> tuple[int, tuple[str, ...]]:
    assert job.vendor is not None
    return job.vendor.pk, job.vendor.alike(job)


def _same_way(
    same: tuple[ToGo, ...], ready: tuple[ToGo, ...], batches: list[Consignment]
) -> SameWay:
    vendor = ready[0].job.vendor
    assert vendor is not None
    coming = [one for one in same if not one.ready and len(one.waits) <= FEW]
    return SameWay(
        vendor=str(vendor),
        vendor_key=vendor.key,
        alike=tuple(filter(None, vendor.alike(ready[0].job))),
        note=vendor.note,
        minimum_charge=vendor.minimum_charge,
        ready=ready,
        coming=tuple(coming),
        batches=tuple(one for one in batches if _takes(one, ready[0].job)),
    )


def _takes(batch: Consignment, job: Job) -> bool:
    loads = [one.job for one in batch.loads.all()]
    return batch.vendor_id == job.vendor_id and all(
        batch.vendor.alike(one) == batch.vendor.alike(job) for one in loads
    )


def _steps() -> dict[int, list[tuple[int, str]]]:
    steps: dict[int, list[tuple[int, str]]] = {}
    for after, before, kind in Link.objects.values_list("job_id", "before_id", "kind"):
        steps.setdefault(after, []).append((before, kind))
    return steps


def _judge(
    job: Job, steps: Mapping[int, list[tuple[int, str]]], every: Mapping[int, Job]
) -> ToGo:
    direct = [
        every[pk]
        for pk, kind in steps.get(job.pk, [])
        if kind != LinkKind.BY and every[pk].state in OPEN
    ]
    reached, todo = set(), [job.pk]
    while todo:
        new = [pk for pk, _ in steps.get(todo.pop(), []) if pk not in reached]
        reached.update(new)
        todo.extend(new)
    checks = [every[pk] for pk in reached if _is_due(every[pk])]
    waits = [str(one) for one in direct if one not in checks]
    return ToGo(job, tuple(waits), tuple(sorted(map(str, checks))))


def _is_due(job: Job) -> bool:
    return job.kind == Kind.CHECK and job.state in OPEN
