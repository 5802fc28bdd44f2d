"""The ways a job could be done in, side by side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from builds.models import Build, Job, Kind, Way
from builds.selectors.answers import Facts, entries, moment, wanted_chance
from builds.selectors.job_words import length

NAMED = {Kind.BENCH: "In house", Kind.CHECK: "In house", Kind.ORDER: "Bought in"}
MOVED = 0.005  # of a chance: less is not shown for another car


@dataclass(frozen=True, slots=True)
class WayOdds:
    """One show entry's chance in one way."""

    car: str
    show: str
    chance: float


@dataclass(frozen=True, slots=True)
class WayLine:
    """One way: who, how long, what it costs and what is at risk."""

    number: int
    name: str
    who: str
    long: str
    cost: float | None
    spoils: float
    at_risk: float | None
    picked: bool
    odds: tuple[WayOdds, ...]
    p80: datetime | None


def way_lines(
    job: Job, answers: Mapping[str, Facts] | None = None
) -> tuple[WayLine, ...]:
    """Give a job's ways; with their answers also the odds each gives."""
    ways = list(job.ways.select_related("vendor"))
    cars = {one.key: str(one) for one in Build.objects.all()}
    shown = _shown(answers or {}, job.build.key if job.build else "")
    return tuple(
        _line(job, way, (answers or {}).get(way.key), shown, cars) for way in ways
    )


def _shown(answers: Mapping[str, Facts], own: str) -> set[tuple[str, str]]:
    """Give the entries to show: the job's own car, and those that a way moves."""
    chances: dict[tuple[str, str], list[float]] = {}
    for answer in answers.values():
        for show, car, entry in entries(answer):
            chances.setdefault((show, car), []).append(wanted_chance(entry))
    return {
        key
        for key, found in chances.items()
        if key[1] == own or max(found) - min(found) > MOVED
    }


def _line(
    job: Job,
    way: Way,
    answer: Facts | None,
    shown: set[tuple[str, str]],
    cars: Mapping[str, str],
) -> WayLine:
    odds = () if answer is None else tuple(_odds(answer, shown, cars))
    value = job.value
    return WayLine(
        number=way.pk,
        name=str(way),
        who=str(way.vendor) if way.vendor else NAMED.get(Kind(way.kind), "Outside"),
        long=_long(way),
        cost=way.cost,
        spoils=way.spoil_chance,
        at_risk=None if value is None else round(way.spoil_chance * value, 2),
        picked=job.way == way.key,
        odds=odds,
        p80=_p80(job, answer) if answer else None,
    )


def _odds(
    answer: Facts, shown: set[tuple[str, str]], cars: Mapping[str, str]
) -> list[WayOdds]:
    return [
        WayOdds(cars.get(car, car), answer["shows"][show]["name"], wanted_chance(entry))
        for show, car, entry in entries(answer)
        if (show, car) in shown
    ]


def _p80(job: Job, answer: Facts) -> datetime | None:
    """Give the day by which the job's own car is ready 80 times in 100."""
    facts = answer["builds"].get(job.build.key if job.build else "", {})
    levels = facts.get("levels", {})
    return moment(levels.get(facts.get("wanted_level"), {}).get("p80"))


def _long(way: Way) -> str:
    if way.likely is None:
        return "not estimated"
    likely = length(way.likely, way.kind)
    if way.low is None or way.high is None:
        return likely
    return f"{likely}, one in ten under {way.low:g} or over {way.high:g}"
