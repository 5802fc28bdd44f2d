"""What has changed since the answer before: the odds, and what people did."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builds.models import Build, Event, Forecast
from builds.selectors.answers import Facts, entries, wanted_chance

NOTICED = 0.02
SHOWN = 6


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
    words = tuple(
        f"{event.subject}: {event.words}" if event.words else event.subject
        for event in acts[:SHOWN]
    )
    more = max(0, acts.count() - len(words))
    moved = tuple(_moved(before.answer, forecast.answer, builds))
    return Changes(True, moved, words, more)


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
