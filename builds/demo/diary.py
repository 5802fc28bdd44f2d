"""What customers read about their car: dated notes in plain words, and no more."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Note:
    """One note on one car's page."""

    build: str
    day: date
    words: str


def _notes(build: str, *said: tuple[str, str]) -> tuple[Note, ...]:
    return tuple(Note(build, date.fromisoformat(day), words) for day, words in said)


def diary() -> tuple[Note, ...]:
    """Return the notes of every car, oldest first within each."""
    return (
        *_notes(
            "q114",
            (
                "2026-12-18",
                "The body is at paint and in its first primer. The engine's machining "
                "is finished and it is being put together.",
            ),
            (
                "2027-01-05",
                "The wiring drawing you signed has gone to be made up. Front and rear "
                "axles are built and waiting under a sheet.",
            ),
            (
                "2027-01-08",
                "A second round of thick primer is being flatted by hand. The seats "
                "cannot be started until the leather is chosen: the samples are with "
                "you.",
            ),
        ),
        *_notes(
            "q109",
            (
                "2026-12-16",
                "The hood frame has gone for chrome, every piece listed and "
                "photographed before it left.",
            ),
            (
                "2027-01-08",
                "The engine and gearbox are in, and the windscreen frame has been "
                "tried in place. The new wiring is being laid.",
            ),
        ),
        *_notes(
            "q121",
            (
                "2027-01-06",
                "It ran for the first time. We have a list of eleven things to put "
                "right before it goes on the road.",
            ),
            (
                "2027-01-08",
                "Warmed right through and left to cool, twice so far, looking for "
                "leaks each time.",
            ),
        ),
        *_notes(
            "q116",
            (
                "2026-12-22",
                "The body repairs are finished and the doors and bonnet are hung for "
                "the first time.",
            ),
            (
                "2027-01-08",
                "Lamps and bumpers are being tried in bare metal, so that no painted "
                "panel is drilled later. The engine goes in for a trial next, once "
                "the part that joins it to the gearbox is back.",
            ),
        ),
        *_notes(
            "q118",
            (
                "2026-12-18",
                "The body came back bare and both sills are rotten behind the outer "
                "skin. We have sent photographs and asked how you would like to go on.",
            ),
            (
                "2027-01-08",
                "The body is being braced so that it keeps its shape. Cutting starts "
                "when we have your answer about the sills.",
            ),
        ),
    )
