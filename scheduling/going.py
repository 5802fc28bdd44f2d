"""Which outside jobs are going the same way, and how many batches they make."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scheduling.plan import BatchRule, Job, Plan, Vendor
from scheduling.work import begun

Alike = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Going:
    """Open jobs for one vendor that fit in one batch; `alike` says in what."""

    vendor: str
    alike: Alike
    jobs: tuple[str, ...]


def going_together(plan: Plan) -> tuple[Going, ...]:
    """Return the outside jobs that are going the same way, across builds.

    Returns
    -------
    tuple of Going
        In the order of the plan; jobs that have left, are done, are left out or belong
        to a car that is left out are in none. A vendor without a batch rule takes
        everything that goes there in one batch. A job that comes after another of its
        kind cannot travel with it: it is in a later one.

    Notes
    -----
    O(jobs x links) at worst: everything before each job that has to go is followed.
    """
    vendors = {one.id: one for one in plan.vendors}
    gone = {one.id for one in plan.builds if one.left_out}
    links = {job.id: tuple(link.job for link in job.after) for job in plan.jobs}
    found: dict[tuple[str, Alike], list[list[str]]] = {}
    for job in plan.jobs:
        if is_to_go(job) and job.vendor and job.build not in gone:
            key = job.vendor, alike(job, vendors[job.vendor].batch)
            _put(found.setdefault(key, []), job.id, links)
    return tuple(
        Going(vendor, same, tuple(load))
        for (vendor, same), loads in found.items()
        for load in loads
    )


def _put(loads: list[list[str]], job: str, links: Mapping[str, Sequence[str]]) -> None:
    """Put a job into the first load none of whose jobs comes before or after it."""
    before = _before(job, links)
    for load in loads:
        if not before & set(load) and not any(
            job in _before(one, links) for one in load
        ):
            load.append(job)
            return
    loads.append([job])


def _before(job: str, links: Mapping[str, Sequence[str]]) -> set[str]:
    reached, todo = set(), [job]
    while todo:
        new = [one for one in links.get(todo.pop(), ()) if one not in reached]
        reached.update(new)
        todo.extend(new)
    return reached


def is_to_go(job: Job) -> bool:
    """Return whether a job still has to leave for a vendor."""
    return job.kind == "outside" and job.state == "open" and not begun(job)


def alike(job: Job, rule: BatchRule | None) -> Alike:
    """Return what a job has to share with others of its batch, by name."""
    if rule is None:
        return ()
    return tuple((name, getattr(job, name)) for name in rule.same)


def batches(jobs: Sequence[Job], vendor: Vendor) -> int:
    """Return how many batches, and so minimum charges, some jobs make.

    Parameters
    ----------
    jobs : sequence of Job
        Those that leave together. A job without `kilos` weighs nothing.
    vendor : Vendor
        Its batch rule says what has to be alike, and how heavy a batch may be.

    Notes
    -----
    First fit, heaviest first (Johnson 1973, Near-optimal bin packing algorithms; from
    memory): never more than 11/9 of the fewest and 6/9. A job heavier than a batch is
    one of its own.
    """
    groups: dict[Alike, list[float]] = {}
    for job in jobs:
        groups.setdefault(alike(job, vendor.batch), []).append(job.kilos or 0.0)
    most = vendor.batch.kilos if vendor.batch else None
    return sum(_packed(kilos, most) for kilos in groups.values())


def _packed(kilos: Iterable[float], most: float | None) -> int:
    if most is None:
        return 1
    loads: list[float] = []
    for weight in sorted(kilos, reverse=True):
        for number, load in enumerate(loads):
            if load + weight <= most + 1e-9:
                loads[number] = load + weight
                break
        else:
            loads.append(weight)
    return len(loads)


def matching(job: Job) -> tuple[str | None, str, str] | None:
    """Return what keeps visible parts of a job in one batch with others, if anything.

    Parts seen side by side on one car match only if they were in one bath: shades
    shift from batch to batch.
    """
    return (job.build, job.process, job.colour) if job.visible else None
