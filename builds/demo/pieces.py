"""The pieces that are out, by name: what was counted out, by whom, and when."""

from __future__ import annotations

from typing import Any

LISTED_BY, TAKEN_BY = "Petra Lunde", "Tomos Greel"
STORES, THEIRS = "Stores, plating shelf", "their works"

BRIGHT_Q114 = (
    ("Front bumper", 1),
    ("Rear bumper halves", 2),
    ("Overriders", 4),
    ("Grille surround", 1),
    ("Door handles", 2),
    ("Window frames", 4),
)
ANODISE_Q114 = (
    ("Pedal box plates", 3),
    ("Kick plates", 2),
    ("Gear lever gate", 1),
    ("Heater control levers", 3),
)
HOOD_Q109 = (
    ("Main hoops", 2),
    ("Side rails, folding", 6),
    ("Hinge plates", 4),
    ("Over-centre catches", 2),
    ("Header rail", 1),
    ("Pivot caps", 7),
)
BADGES_Q114 = (("Bonnet badge", 1), ("Wing badges", 2))
DRAWINGS_Q114 = (("Loom drawing, sheets", 3),)


def gone_out(
    job: str, holder: str, sent: str, names: tuple[tuple[str, int], ...]
) -> list[dict[str, Any]]:
    """Return the list of a job that left on a day, each piece with its trail."""
    return [
        {
            "id": f"{job}-{number}",
            "name": name,
            "count": count,
            "holder": holder,
            "place": THEIRS,
            "state": "out",
            "trail": [
                _move(f"{sent}T08:30", LISTED_BY, STORES, "here", count, LISTED_BY),
                _move(f"{sent}T15:30", holder, THEIRS, "out", count, TAKEN_BY),
            ],
        }
        for number, (name, count) in enumerate(names, start=1)
    ]


def _move(
    at: str, holder: str, place: str, state: str, count: int, signed: str
) -> dict[str, Any]:
    return {
        "at": at,
        "holder": holder,
        "place": place,
        "state": state,
        "count": count,
        "signed": signed,
    }
