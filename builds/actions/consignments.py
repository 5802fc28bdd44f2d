"""Outside jobs that leave together and come back together: made up, changed, parted."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime

from django.db import transaction

from builds.actions.claim import claim
from builds.actions.errors import NotReady, Refused
from builds.actions.links import order_alone
from builds.actions.piece_rows import rows_of
from builds.actions.ready import open_checks_before
from builds.actions.record import check_sane, create, plain, record
from builds.models import Consignment, ConsignmentJob, Job, State, User, Vendor


@transaction.atomic
def create_consignment(
    *,
    by: User,
    vendor: Vendor,
    jobs: Iterable[Job],
    leaves: datetime | None = None,
    name: str = "",
) -> Consignment:
    """Let jobs travel together."""
    order_alone()
    jobs = list(jobs)
    fields = {"vendor": vendor, "leaves": leaves, "name": name}
    row = create(Consignment, name or f"{vendor} together", fields)
    after = plain(fields | {"jobs": _load(by, row, jobs)}) | {"consignment": row.key}
    record(
        by=by,
        verb="created consignment",
        subject=name or vendor,
        after=after,
        touched=jobs,
    )
    return row


@transaction.atomic
def change_consignment(
    *,
    by: User,
    consignment: Consignment,
    jobs: Iterable[Job],
    leaves: datetime | None = None,
    name: str | None = None,
    version: int | None = None,
) -> Consignment:
    """Say anew what travels together, and when; what has left stays as it left."""
    _check_here(consignment)
    order_alone()
    jobs = list(jobs)
    name = consignment.name if name is None else name
    check_sane(name)
    before = _facts(consignment)
    already = {load.job_id for load in consignment.loads.all()}
    seen = consignment.version if version is None else version
    consignment = claim(consignment, seen, leaves=leaves, name=name)
    consignment.loads.all().delete()
    _load(by, consignment, jobs, already)
    record(
        by=by,
        verb="changed consignment",
        subject=consignment.name or consignment.vendor,
        before=before,
        after=_facts(consignment),
        touched=jobs,
    )
    return consignment


@transaction.atomic
def part_consignment(*, by: User, consignment: Consignment) -> Vendor:
    """Let each of the jobs travel on its own."""
    _check_here(consignment)
    before, vendor = _facts(consignment), consignment.vendor
    jobs = list(consignment.jobs.all())
    subject = consignment.name or vendor
    consignment.delete()
    record(
        by=by, verb="parted consignment", subject=subject, before=before, touched=jobs
    )
    return vendor


def _check_here(consignment: Consignment) -> None:
    if consignment.left is not None:
        raise Refused(f"“{consignment}” has left. It is counted in at goods-in.")


def _facts(consignment: Consignment) -> dict[str, object]:
    loads = consignment.loads.select_related("job")
    facts = {"leaves": consignment.leaves, "name": consignment.name}
    facts |= {"jobs": [load.job.key for load in loads]}
    return plain(facts) | {"consignment": consignment.key}


def _load(
    by: User,
    consignment: Consignment,
    jobs: Iterable[Job],
    already: Collection[int] = (),
) -> list[str]:
    loads = [ConsignmentJob(consignment=consignment, job=job) for job in jobs]
    if not loads:
        raise Refused("Choose what travels in it.")
    for load in loads:
        if load.job_id not in already:
            _check_may_join(consignment, load.job)
        rows_of(load.job, by)  # so that every piece has a label
    ConsignmentJob.objects.bulk_create(loads)
    return [load.job.key for load in loads]


def _check_may_join(consignment: Consignment, job: Job) -> None:
    """Refuse what travels already, has gone, or has not been trial fitted."""
    other = job.consignments.exclude(pk=consignment.pk).first()
    if other is not None:
        raise Refused(f"“{job}” travels with “{other}” already.")
    if job.sent is not None or job.state in (State.DONE, State.LEFT_OUT):
        raise Refused(f"“{job}” has gone already, so it cannot join.")
    checks = open_checks_before(job)
    if checks:
        raise NotReady(
            f"“{job}” may not go yet: “{checks[0]}” has not been passed.",
            [one.key for one in checks],
        )
