"""What an act set free, and how it moved the odds of every show."""

from __future__ import annotations

from dataclasses import dataclass

from builds.models import Build, Event, Forecast, ForecastState, Job
from builds.selectors.answers import Facts, entries, wanted_chance


@dataclass(frozen=True, slots=True)
class Odds:
    """The chance of one car for one show before and after."""

    show: str
    car: str
    level: str
    before: float | None
    after: float


@dataclass(frozen=True, slots=True)
class Freed:
    """A job that became clear."""

    key: str
    title: str
    car: str


@dataclass(frozen=True, slots=True)
class CameOfIt:
    """What became clear, and the odds; `known` if it has been worked out yet."""

    known: bool
    freed: tuple[Freed, ...] = ()
    odds: tuple[Odds, ...] = ()


def came_of_it(event: Event) -> CameOfIt:
    """Compare the last answer before an act with the first one that knows of it."""
    done = Forecast.objects.filter(state=ForecastState.DONE)
    after = done.filter(asked_at__gte=event.at).order_by("asked_at", "pk").first()
    before = done.filter(asked_at__lt=event.at).order_by("-asked_at", "-pk").first()
    if after is None:
        return CameOfIt(False)
    was: Facts = before.answer if before else {}
    return CameOfIt(True, _freed(was, after.answer), _odds(was, after.answer))


def _freed(was: Facts, now: Facts) -> tuple[Freed, ...]:
    waited = {
        key
        for key, facts in was.get("jobs", {}).items()
        if facts["condition"] == "waiting"
    }
    clear = [
        key
        for key, facts in now.get("jobs", {}).items()
        if facts["condition"] == "clear" and key in waited
    ]
    rows = Job.objects.filter(key__in=clear).select_related("build")
    return tuple(
        Freed(one.key, str(one), str(one.build) if one.build else "no car")
        for one in rows
    )


def _odds(was: Facts, now: Facts) -> tuple[Odds, ...]:
    before = {
        (show, build): wanted_chance(entry) for show, build, entry in entries(was)
    }
    cars = {one.key: str(one) for one in Build.objects.all()}
    return tuple(
        Odds(
            show=now["shows"][show]["name"],
            car=cars.get(build, build),
            level=entry["level"],
            before=before.get((show, build)),
            after=wanted_chance(entry),
        )
        for show, build, entry in entries(now)
    )
