"""What has changed since the answer before: the odds, and what people did."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builds.models import Build, Event, Forecast
from builds.selectors.answers import Facts, entries, wanted_chance
from builds.selectors.job_history import VERBS

NOTICED = 0.02
SHOWN = 6
OTHER_VERBS = {  # of what is no job; those of jobs are on the job page
    "added closure": "took down days it is shut",
    "removed closure": "took away days it is shut",
    "added days away": "took down days away",
    "removed days away": "took away days away",
    "changed calendar": "changed the working hours",
    "changed consignment": "changed what goes together",
    "parted consignment": "took it apart again",
    "sent consignment": "saw it leave",
    "counted in consignment": "counted in what came back",
    "changed place": "changed the place",
    "followed plan": "let everybody follow the new plan",
    "kept order": "kept the old order of work",
    "changed workshop": "changed the workshop’s own facts",
    "created build": "added the car",
    "changed build": "changed the car",
    "changed person": "changed the person",
    "left out person": "left the person out of the plan",
    "restored person": "put the person back into the plan",
    "changed vendor": "changed the firm",
    "left out vendor": "left the firm out of the plan",
    "restored vendor": "put the firm back into the plan",
    "changed show": "changed the show",
    "cancelled show": "took the show out of the plan",
    "restored show": "put the show back into the plan",
    "left out build": "left the car out of the plan",
    "restored build": "put the car back into the plan",
    "created consignment": "put together what goes out",
    "created person": "added the person",
    "created place": "added the place",
    "created show": "added the show",
    "created vendor": "added the firm",
    "entered build": "entered it for a show",
    "withdrew build": "withdrew it from a show",
    "posted update": "wrote to the customer",
    "replaced plan": "read in a plan file",
    "set trades": "changed the trades",
    "took back": "took back what was done last",
    "created calendar": "added the working week",
    "chose calendar": "made it the usual week",
    "removed calendar": "took the working week away",
    "removed place": "took the place away",
    "changed levels": "changed how ready a car can be",
}


@dataclass(frozen=True, slots=True)
class Moved:
    """A chance that moved by two points or more."""

    car: str
    show: str
    level: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Changes:
    """What moved, and the acts since then (newest first) that may be why."""

    known: bool
    moved: tuple[Moved, ...]
    acts: tuple[str, ...]
    more: int


def changes(
    forecast: Forecast, before: Forecast | None, builds: Mapping[str, Build]
) -> Changes:
    """Compare two answers, and give the acts between them."""
    if before is None:
        return Changes(False, (), (), 0)
    acts = Event.objects.filter(at__gt=before.asked_at, at__lte=forecast.asked_at)
    words = tuple(_said(event) for event in acts.select_related("by")[:SHOWN])
    more = max(0, acts.count() - len(words))
    moved = tuple(_moved(before.summary, forecast.summary, builds))
    return Changes(True, moved, words, more)


def _said(event: Event) -> str:
    """Say who did what to which, and in what words."""
    verb = VERBS.get(event.verb) or OTHER_VERBS.get(event.verb, event.verb)
    words = f" “{event.words}”" if event.words else ""
    return f"{event.subject}: {event.by or 'the workshop'} {verb}.{words}"


def _moved(before: Facts, after: Facts, builds: Mapping[str, Build]) -> list[Moved]:
    was = {
        (show, build): wanted_chance(entry) for show, build, entry in entries(before)
    }
    found = []
    for show, build, entry in entries(after):
        old, new = was.get((show, build)), wanted_chance(entry)
        if old is not None and abs(new - old) >= NOTICED and build in builds:
            name = builds[build].name or build
            shown = after["shows"][show]["name"]
            found.append(Moved(name, shown, entry["level"], old, new))
    return found
