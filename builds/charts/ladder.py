"""The level ladder: how ready the car can be, rung by rung, and how sure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from builds.charts import wording
from builds.charts.smear import Finish, SmearStrip, smear_strip, strip_scale

HOLDS = 80  # in 100: the chance at which a level can be promised


@dataclass(frozen=True, slots=True)
class Rung:
    """One level as it was worked out."""

    name: str
    probability: float | None
    finish: Finish | None
    planned: datetime | None = None
    url: str = ""


@dataclass(frozen=True, slots=True)
class DrawnRung:
    """One level as it is drawn."""

    name: str
    url: str
    probability: float | None
    planned: datetime | None
    strip: SmearStrip | None
    holds: bool
    wanted: bool


@dataclass(frozen=True, slots=True)
class Ladder:
    """The rungs from the top down, and the sentence above them."""

    rungs: tuple[DrawnRung, ...]
    sentence: str
    now: datetime
    move_in: datetime | None


def ladder(
    rungs: Sequence[Rung], *, now: datetime, move_in: datetime | None, wanted: str
) -> Ladder:
    """Draw the levels, lowest given first, on one scale of time."""
    finishes = [rung.finish for rung in rungs if rung.finish]
    scale = strip_scale(finishes, now=now, move_in=move_in)
    drawn = [
        DrawnRung(
            name=rung.name,
            url=rung.url,
            probability=rung.probability,
            planned=rung.planned,
            strip=smear_strip(rung.finish, now=now, move_in=move_in, scale=scale)
            if rung.finish
            else None,
            holds=_holds(rung),
            wanted=rung.name == wanted,
        )
        for rung in rungs
    ]
    sentence = _sentence(rungs, wanted)
    return Ladder(tuple(reversed(drawn)), sentence, now, move_in)


def _holds(rung: Rung) -> bool:
    chance = rung.probability
    return chance is not None and wording.hundredths(chance) >= HOLDS


def _sentence(rungs: Sequence[Rung], wanted: str) -> str:
    chances = {rung.name: rung.probability for rung in rungs}
    held = [rung.name for rung in rungs if _holds(rung)]
    if all(chance is None for chance in chances.values()):
        return "No show is set, so there are dates but no odds."
    asked = f"The wish is {wanted}: {wording.in_100(chances.get(wanted))}."
    if not held:
        return f"{asked} No level holds at {HOLDS} in 100 yet."
    return f"{asked} What can be promised at {HOLDS} in 100 is {held[-1]}."
