"""A long look for a better plan: asked for, stopped."""

from __future__ import annotations

from django.conf import settings
from django.db import transaction

from builds.actions.errors import PlanRefused, Refused
from builds.models import Event, Job, Search, State, User, Workshop
from builds.planning.exchange import PlanError
from builds.planning.question import as_rows
from builds.planning.search_row import end_if_idle, open_search
from builds.tasks.search import begin

LONGEST = 60  # minutes
NEEDS_WORKER = (
    "Looking for so long is done by a program beside this site, and none is set up."
)
ALREADY = "A better plan is being looked for already."
NO_WORK = "There is no open job, so there is nothing to plan better."


@transaction.atomic
def ask_for_search(*, by: User | None, minutes: int, here: bool = False) -> Search:
    """Begin a long look for a better plan, in the queue or, with `here`, by the caller.

    The plan itself does not change, so no forecast is asked for.
    """
    if not here and not settings.REDIS_URL:
        raise Refused(NEEDS_WORKER)
    if not 1 <= minutes <= LONGEST:
        raise Refused(f"Give it from 1 to {LONGEST} minutes.")
    if not Job.objects.filter(state__in=(State.OPEN, State.UNDER_WAY)).exists():
        raise Refused(NO_WORK)
    try:
        search = open_search(by=by, minutes=minutes, at=Workshop.current().clock())
    except PlanError as error:
        raise PlanRefused(as_rows(error.faults)) from error
    if search is None:
        raise Refused(ALREADY)
    _write(by, "asked for a better plan", search)
    if not here:
        begin(search)
    return search


@transaction.atomic
def stop_search(*, by: User | None) -> bool:
    """Stop the long look and keep the best so far; False if there is none."""
    search = Search.objects.select_for_update().open().filter(stop_asked=False).first()
    if search is None:
        return False
    search.stop_asked = True
    search.save(update_fields=["stop_asked"])
    end_if_idle(search)
    _write(by, "stopped looking for a better plan", search)
    return True


def _write(by: User | None, verb: str, search: Search) -> None:
    after = {"minutes": search.minutes}
    Event.objects.create(by=by, verb=verb, subject=str(Workshop.current()), after=after)
