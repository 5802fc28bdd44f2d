"""The whole plan at once, from a file."""

from __future__ import annotations

from django.db import transaction

from builds.actions.addresses import check_every_address
from builds.actions.errors import PlanRefused
from builds.actions.record import record
from builds.models import Build, Job, User, Workshop
from builds.planning.exchange import PlanError, import_plan


@transaction.atomic
def replace_plan(
    *, by: User | None, text: str | bytes, pin_clock: bool = False
) -> None:
    """Replace the workshop by a plan file; a file with faults changes nothing."""
    before = {"builds": Build.objects.count(), "jobs": Job.objects.count()}
    try:
        import_plan(text, pin_clock=pin_clock)
    except PlanError as error:
        raise PlanRefused(
            [
                {"where": one.where, "what": one.what, "fix": one.fix}
                for one in error.faults
            ]
        ) from error
    check_every_address()
    after = {"builds": Build.objects.count(), "jobs": Job.objects.count()}
    record(
        by=by,
        verb="replaced plan",
        subject=Workshop.current(),
        before=before,
        after=after,
    )
