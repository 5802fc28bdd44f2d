"""One workshop lived through, with everything the engine foretold on the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import scheduling
from scheduling.plan_parts import plan_from
from tests.scheduling.calibration.invent import invent
from tests.scheduling.calibration.life import Life
from tests.scheduling.calibration.scores import Event
from tests.scheduling.calibration.truth import draw_truth

Row = dict[str, Any]

SAMPLES = 2000
EVERY = 10  # mornings between forecasts
WEEKS = range(1, 41)
POINTS = {"p50": 0.5, "p80": 0.8, "p90": 0.9}
SURE = 0.01  # dates the engine is this sure about say nothing
# the world keeps its shared factors; the engine is told there are none
VARIANTS: Mapping[str, Row] = {
    "as it is": {},
    "no vendor factor": {"factors": {"vendor": 0.0}},
    "no car factor": {"factors": {"build": 0.0}},
    "no shared factor": {"factors": {"vendor": 0.0, "build": 0.0}},
}


@dataclass(frozen=True, slots=True)
class Foretold:
    """A chance that a car reaches a level by a date."""

    variant: str
    kind: str
    morning: int
    car: str
    level: str
    by: str
    chance: float


class Forecaster:
    """Answers every morning's question and notes the odds on some mornings."""

    def __init__(
        self, variants: Mapping[str, Row] = VARIANTS, samples: int = SAMPLES
    ) -> None:
        self._variants, self._samples = variants, samples
        self.told: list[Foretold] = []

    def ask(self, document: Row, morning: int) -> Row:
        """Return the engine's answer to a plan file."""
        if morning % EVERY:
            # the same records without the checks, which the other mornings make
            plan = plan_from(document)
            return scheduling.answer(plan, samples=1, schedules=1).as_dict()
        first: Row | None = None
        for name, changes in self._variants.items():
            found = self._answer({**document, **changes}, self._samples)
            self._note(name, morning, document, found)
            first = first or found.as_dict()
        assert first is not None  # there is a first variant
        return first

    def _answer(self, document: Row, samples: int) -> scheduling.Answer:
        plan = scheduling.read_plan(document)
        return scheduling.answer(plan, samples=samples, schedules=1)

    def _note(
        self, name: str, morning: int, document: Row, found: scheduling.Answer
    ) -> None:
        told = found.as_dict()
        open_levels = {
            (job["build"], job["level"])
            for job in document["jobs"]
            if job.get("state") != "done"
        }
        for car in told["builds"]:
            reached = True
            for level in document["levels"]:
                reached = reached and (car, level) not in open_levels
                if not reached:
                    for kind, by, chance in _events(told, found, car, level):
                        row = Foretold(name, kind, morning, car, level, by, chance)
                        self.told.append(row)


def _events(
    told: Row, found: scheduling.Answer, car: str, level: str
) -> list[tuple[str, str, float]]:
    """Return (kind, date, chance) of one car and level on one morning."""
    points = told["builds"][car]["levels"][level]
    events = [(kind, points[kind], chance) for kind, chance in POINTS.items()]
    for show in told["shows"].values():
        if car in show["entries"] and show["move_in"] > told["now"]:
            chance = show["entries"][car]["levels"][level]["probability"]
            events.append(("show", show["move_in"], chance))
    now = datetime.fromisoformat(told["now"])
    quarter = found.found.network.clocks.timeline.quarter
    for week in WEEKS:
        by = now + timedelta(days=7 * week)
        chance = found.found.odds.chance((car, level), quarter(by))
        if SURE <= chance <= 1.0 - SURE:
            events.append(("week", by.isoformat(timespec="minutes"), chance))
    return events


def lived(seed: int) -> dict[str, list[Event]]:
    """Return the events of one workshop's life by variant of the engine."""
    document = invent(seed)
    forecaster = Forecaster()
    life = Life(document, draw_truth(document, seed), forecaster.ask)
    ledger = life.run()
    events: dict[str, list[Event]] = {name: [] for name in VARIANTS}
    levels = document["levels"]
    for one in forecaster.told:
        upto = levels[: levels.index(one.level) + 1]
        reached = ledger.reached(one.car, upto)
        assert reached is not None  # every job is done
        happened = reached <= life.diary.minutes(one.by) + 1.0
        chance = round(one.chance, 2)  # as the page says it: n in 100
        events[one.variant].append(Event(seed, chance, happened, one.kind, one.morning))
    return events
