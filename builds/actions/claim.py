"""One of two people who act on the same consignment at once."""

from __future__ import annotations

from typing import Any

from django.db.models import F, QuerySet

from builds.actions.errors import Refused
from builds.models import Consignment, Event, Job

SINCE = "{who} changed “{what}” after you opened it. Look at it as it stands now."


def claim(consignment: Consignment, version: int, **fields: Any) -> Consignment:
    """Write fields if it is still as it was seen, in one statement; give it anew.

    What was handed in stays as it was: what is refused later is not on the page.
    """
    rows = Consignment.objects.filter(pk=consignment.pk, version=version)
    if not rows.update(**fields, version=F("version") + 1):
        last = acts_on(consignment.key).select_related("by").first()
        who = str(last.by) if last and last.by else "Somebody else"
        raise Refused(SINCE.format(who=who, what=consignment))
    return Consignment.objects.select_related("vendor").get(pk=consignment.pk)


def check_seen(job: Job, version: int | None) -> None:
    """Refuse if a job that is held has changed since its page was opened."""
    if version is None or job.version == version:
        return
    last = Event.objects.filter(job=job).select_related("by").first()
    who = str(last.by) if last and last.by else "Somebody else"
    raise Refused(SINCE.format(who=who, what=job))


def acts_on(key: str) -> QuerySet[Event]:
    """Give what was done to a consignment, newest first."""
    return Event.objects.filter(after__consignment=key)
