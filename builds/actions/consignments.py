"""Outside jobs that leave together and come back together."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction

from builds.actions.record import create, plain, record
from builds.models import Consignment, ConsignmentJob, Job, User, Vendor


@transaction.atomic
def create_consignment(
    *, by: User, vendor: Vendor, jobs: Iterable[Job], leaves: datetime | None = None
) -> Consignment:
    """Let jobs travel together."""
    fields = {"vendor": vendor, "leaves": leaves}
    row = create(Consignment, f"{vendor} together", fields)
    after = fields | {"jobs": _load(row, jobs)}
    record(by=by, verb="created consignment", subject=vendor, after=after)
    return row


@transaction.atomic
def change_consignment(
    *,
    by: User,
    consignment: Consignment,
    jobs: Iterable[Job],
    leaves: datetime | None = None,
) -> Consignment:
    """Say anew what travels together, and when."""
    before = {"leaves": consignment.leaves, "jobs": _keys(consignment)}
    consignment.loads.all().delete()
    consignment.leaves = leaves
    consignment.save(update_fields=["leaves"])
    after = {"leaves": leaves, "jobs": _load(consignment, jobs)}
    record(
        by=by,
        verb="changed consignment",
        subject=consignment.vendor,
        before=before,
        after=after,
    )
    return consignment


@transaction.atomic
def part_consignment(*, by: User, consignment: Consignment) -> Vendor:
    """Let each of the jobs travel on its own."""
    before = plain({"leaves": consignment.leaves, "jobs": _keys(consignment)})
    vendor = consignment.vendor
    consignment.delete()
    record(by=by, verb="parted consignment", subject=vendor, before=before)
    return vendor


def _keys(consignment: Consignment) -> list[str]:
    return [load.job.key for load in consignment.loads.select_related("job")]


def _load(consignment: Consignment, jobs: Iterable[Job]) -> list[str]:
    loads = [ConsignmentJob(consignment=consignment, job=job) for job in jobs]
    ConsignmentJob.objects.bulk_create(loads)
    return [load.job.key for load in loads]
