"""What people did to a job, newest first, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from builds.models import Build, Event, Job, Person, Place, Promise, Vendor
from builds.selectors.job_words import ROWS, differences

SHOWN = 40
VERBS = {
    "recorded promise": "took down a date",
    "answered found work": "took down the customer’s answer",
    "recorded choice": "took down the customer’s choice",
    "left out job": "left it out",
    "restored job": "put it back",
    "created job": "added it",
    "changed job": "changed it",
    "moved job": "said where it is done",
    "sent job": "sent it out",
    "booked back": "accepted it back",
    "checked in pieces": "counted pieces in",
    "started job": "started it",
    "stopped job": "put it down",
    "finished job": "finished it",
    "reopened job": "reopened it",
    "reported trouble": "said something is wrong",
    "added link": "said what must come first",
    "removed link": "took away what came first",
}


@dataclass(frozen=True, slots=True)
class Act:
    """Who did what and when, what that changed, and what was said."""

    at: datetime
    by: str
    verb: str
    changes: tuple[str, ...]
    words: str


def history(job: Job) -> tuple[Act, ...]:
    """Give the newest acts on a job."""
    events = list(Event.objects.filter(job=job).select_related("by")[:SHOWN])
    titles = _titles(events)
    return tuple(
        Act(
            at=event.at,
            by=str(event.by or "The workshop"),
            verb=VERBS.get(event.verb, event.verb),
            changes=differences(event.before, event.after, job.kind, titles),
            words=event.words,
        )
        for event in events
    )


def promises(job: Job) -> tuple[Promise, ...]:
    """Give every date a vendor gave for a job, newest first."""
    return tuple(job.promises.order_by("-pk"))


def _titles(events: list[Event]) -> dict[str, str]:
    """Give the names of the rows the acts speak of, by key."""
    keys: dict[str, set[str]] = {}
    for event in events:
        for facts in (event.before, event.after):
            for name in ROWS:
                if isinstance(facts.get(name), str):
                    keys.setdefault(name, set()).add(facts[name])
            for place in facts.get("places") or ():
                keys.setdefault("places", set()).add(place)
    models = {"person": Person, "vendor": Vendor, "build": Build, "before": Job}
    found: dict[str, str] = {}
    for name, wanted in keys.items():
        model = models.get(name, Place)
        rows = model._default_manager.filter(key__in=wanted)
        found.update((row.key, str(row)) for row in rows)
    return found
