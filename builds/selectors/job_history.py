"""What people did to a job, newest first, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import QuerySet, TextField, Value

from builds.charts.wording import hours
from builds.models import Build, Event, Job, Person, Place, Promise, User, Vendor
from builds.models.keyed import Keyed
from builds.selectors import acts_together as together
from builds.selectors.job_words import ROWS, differences
from builds.selectors.last_act import STAYS, act_to_undo, last_act

SHOWN = 40
VERBS = {
    "took back": "took back",
    "recorded promise": "took down a date",
    "answered found work": "took down the customer’s answer",
    "recorded choice": "took down the customer’s choice",
    "left out job": "left it out",
    "restored job": "put it back",
    "created job": "added it",
    "changed job": "changed it",
    "moved job": "said where it is done",
    "named person": "said who does it",
    "freed job": "left it to whoever is free",
    "sent job": "sent it out",
    "booked back": "accepted it back",
    "checked in pieces": "counted pieces in",
    "counted in": "counted pieces in",
    "listed piece": "put pieces on the list",
    "struck piece": "took a piece off the list",
    "moved piece": "said where a piece is",
    "started job": "started it",
    "stopped job": "put it down",
    "finished job": "finished it",
    "reopened job": "reopened it",
    "reported trouble": "said something is wrong",
    "added link": "said what must come first",
    "removed link": "took away what came first",
    "set links": "took what comes first from a sheet",
    "acknowledged order": "took down that the order is acknowledged",
    "back order": "took down that it is on back-order",
    "received order": "counted an order in",
    "robbed part": "took the part from another car",
    "owed part": "owes a part to this car",
    "added way": "added a way to do it",
    "removed way": "took away a way to do it",
    "picked way": "picked the way it is done",
    "could not start": "took down when they could start",
    "refused date": "refused a date the vendor put in",
    **together.VERBS,
}


SPOKEN_OF: dict[str, tuple[type[Keyed], str]] = {
    "person": (Person, "name"),
    "vendor": (Vendor, "name"),
    "build": (Build, "name"),
    "before": (Job, "title"),
    "jobs": (Job, "title"),
    "robbed_for": (Build, "name"),
    "places": (Place, "name"),
}


@dataclass(frozen=True, slots=True)
class Act:
    """Who did what and when, what that changed, and what was said."""

    at: datetime
    by: str
    verb: str
    changes: tuple[str, ...]
    words: str
    undo: int | None  # its number, if it is the one that may be taken back


def history(job: Job) -> tuple[Act, ...]:
    """Give the newest acts on a job, those on all that travelled with it too."""
    own = Event.objects.filter(job=job).select_related("by", "undoes")[:SHOWN]
    events = [*own, *together.acts_together(job, SHOWN)]
    events = sorted(events, key=lambda event: -event.pk)[:SHOWN]
    titles = titles_of(events)
    last = last_act(job)
    return tuple(
        Act(
            at=event.at,
            by=str(event.by or "The workshop"),
            verb=say_act(event),
            changes=differences(*together.own_part(event, job), job.kind, titles),
            words=event.words,
            undo=event.pk if event == last and event.verb not in STAYS else None,
        )
        for event in events
    )


def own_last_act(by: User, job: Job) -> Act | None:
    """Give what they did last to a job, if they may take it back."""
    event = act_to_undo(by, job)
    if event is None:
        return None
    return Act(event.at, str(event.by), say_act(event), (), event.words, event.pk)


def say_act(event: Event) -> str:
    """Say what someone did to a job: `finished it`, `took back: finished it`.

    And when it was pressed, where a phone sent it later.
    """
    verb = VERBS.get(event.verb, event.verb)
    if event.undoes is not None:
        verb = f"{verb}: {VERBS.get(event.undoes.verb, event.undoes.verb)}"
    if event.pressed_at is None:
        return verb
    late = (event.at - event.pressed_at).total_seconds() / 3600
    return f"{verb} (pressed {hours(late)} before it reached us)"


def promises(job: Job) -> tuple[Promise, ...]:
    """Give every date a vendor gave for a job, newest first."""
    return tuple(job.promises.order_by("-pk"))


def titles_of(events: list[Event]) -> dict[tuple[str, str], str]:
    """Give the names of the rows the acts speak of, in one question."""
    keys: dict[str, set[str]] = {}
    for event in events:
        for facts in (event.before, event.after):
            for name in ROWS:
                if isinstance(facts.get(name), str):
                    keys.setdefault(name, set()).add(facts[name])
            keys.setdefault("places", set()).update(facts.get("places") or ())
            keys.setdefault("jobs", set()).update(facts.get("jobs") or ())
    found = [_named(name, wanted) for name, wanted in keys.items() if wanted]
    rows = found[0].union(*found[1:]) if found else ()
    return {(name, key): title or key for key, title, name in rows}


def _named(name: str, keys: set[str]) -> QuerySet[Any, tuple[str, str, str]]:
    model, title = SPOKEN_OF[name]
    rows = model._default_manager.filter(key__in=keys).order_by()
    return rows.values_list("key", title, Value(name, output_field=TextField()))
