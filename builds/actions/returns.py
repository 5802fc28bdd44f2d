"""What a return tells of the vendor: what was quoted, and what it took them."""

from __future__ import annotations

from datetime import date

from builds.models import Job, Kind, PastReturn
from builds.planning.waits import VendorDays


def keep_return(job: Job, back: date) -> dict[str, float]:
    """Add what was quoted and what it took to what is known of the vendor.

    Days on which it only lay there, waiting for a slot or for something of ours, are
    kept apart: they say nothing of how the vendor works.
    """
    if job.kind != Kind.OUTSIDE or job.vendor is None or job.sent is None:
        return {}
    days = VendorDays(job.vendor.key)
    taken = days.taken(job.sent, back)
    waited = min(days.waited(job), taken - 1.0)
    quoted = _quoted(job, days, waited)
    if quoted <= 0:
        return {}
    PastReturn.objects.create(
        vendor=job.vendor,
        quoted_days=quoted,
        actual_days=taken,
        waited_days=waited,
        what=str(job),
        back=back,
    )
    told = {"quoted_days": quoted, "actual_days": taken}
    return told | ({"waited_days": waited} if waited else {})


def _quoted(job: Job, days: VendorDays, waited: float) -> float:
    """Give the days they said: those of the first date, else those it was planned for.

    A date they gave holds the wait too, if it lies beyond it.
    """
    first = job.promises.exclude(date=None).first()
    if first is None or first.date is None or job.sent is None:
        return job.likely or 0.0
    quoted = days.taken(job.sent, first.date)
    return quoted - waited if quoted > waited else quoted
