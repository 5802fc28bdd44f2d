"""The long look for a better plan: how far it is and what came of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta

from django.conf import settings
from django.utils import timezone

from builds.charts import wording
from builds.models import Search, SearchState
from builds.selectors.answers import Facts, newest
from builds.selectors.what_if import WhatIf, compare

NOBODY_AFTER = timedelta(seconds=90)
FAILED = "It could not be gone through with. The plan stays as it was."
FAILED_LATER = "It could not be gone through with. What was found until then is kept."
OVERTAKEN = (
    "The plan was changed meanwhile, so this look came to an end. What was found is for"
    " the plan as it stood before; look again for the plan of now."
)
SINCE = (
    "Something has been changed since, so this is about the plan as it stood then; look"
    " again for the plan of now."
)
STATE_WORDS = {
    SearchState.QUEUED: "Waiting for its turn",
    SearchState.RUNNING: "Looking",
    SearchState.DONE: "The time is up",
    SearchState.STOPPED: "Stopped",
    SearchState.OVERTAKEN: "Overtaken by a change",
    SearchState.FAILED: "Broken off",
}


@dataclass(frozen=True, slots=True)
class SearchNow:
    """One long look, in words."""

    minutes: int
    open: bool
    state: str
    stage: str
    percent: int
    stopping: bool
    nobody: bool
    ended: str
    faults: tuple[str, ...]
    found: WhatIf | None


@dataclass(frozen=True, slots=True)
class BetterPlanPage:
    """The page: the plan that is followed, and the last look for a better one."""

    status: str
    queue: bool
    search: SearchNow | None


def better_plan_page(is_current: Callable[[Search], bool]) -> BetterPlanPage:
    """Give how good the plan is and how the last look for a better one stands.

    `is_current` says whether the plan is still the one looked at. It reads the whole
    plan, so it is asked only of a look that is over.
    """
    forecast = newest()
    status = forecast.summary.get("plan", {}).get("status", "") if forecast else ""
    search = Search.objects.newest()
    return BetterPlanPage(
        status=status,
        queue=bool(settings.REDIS_URL),
        search=_now(search, is_current) if search else None,
    )


def ended_words(search: Search, *, current: bool = True) -> str:
    """Say what came of a look that is at its end, and whether that still holds."""
    if search.open:
        return ""
    if search.state == SearchState.OVERTAKEN:
        return OVERTAKEN
    if search.state == SearchState.FAILED:
        return FAILED_LATER if is_better(search) else FAILED
    if not current:
        found = "A" if is_better(search) else "No"
        return f"{found} better plan was found. {SINCE}"
    if not is_better(search):
        return "No better plan was found. The plan stays as it was."
    times, hands = moves(search.before, search.after)
    return (
        "A better plan was found and is followed now: "
        f"{wording.counted(times, 'job starts,jobs start')} at another time, "
        f"{wording.counted(hands, 'job is,jobs are')} in other hands."
    )


def is_better(search: Search) -> bool:
    """Say whether a better plan was found."""
    return bool(search.after) and search.after != search.before


def moves(before: Facts, after: Facts) -> tuple[int, int]:
    """Count the jobs that start at another time, and those in other hands."""
    old, new = before.get("jobs", {}), after.get("jobs", {})
    both = [(old[key], new[key]) for key in new if key in old]
    return (
        sum(one["planned_start"] != other["planned_start"] for one, other in both),
        sum(one["who"] != other["who"] for one, other in both),
    )


def _now(search: Search, is_current: Callable[[Search], bool]) -> SearchNow:
    over = not search.open and search.state != SearchState.OVERTAKEN
    current = over and is_current(search)
    state = SearchState(search.state)
    since = search.seen or search.asked_at
    return SearchNow(
        minutes=search.minutes,
        open=search.open,
        state=STATE_WORDS[state],
        stage=search.progress,
        percent=int(search.share * 100),
        stopping=search.open and search.stop_asked,
        nobody=search.open and timezone.now() - since > NOBODY_AFTER,
        ended=ended_words(search, current=current),
        faults=tuple(f"{one['what']}. {one['fix']}" for one in search.faults),
        found=(
            compare(search.before, search.after)
            if current and is_better(search)
            else None
        ),
    )
