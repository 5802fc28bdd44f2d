"""Lay stretches into as few lanes as will hold them without touching."""

from __future__ import annotations

from collections.abc import Sequence

Stretch = tuple[float, float]


def pack(stretches: Sequence[Stretch], *, gap: float) -> list[int]:
    """Give each stretch, in the order given, the first lane with room for it."""
    lanes: list[list[Stretch]] = []
    given: list[int] = []
    for stretch in stretches:
        lane = next(
            (
                place
                for place, held in enumerate(lanes)
                if _has_room(held, stretch, gap)
            ),
            len(lanes),
        )
        if lane == len(lanes):
            lanes.append([])
        lanes[lane].append(stretch)
        given.append(lane)
    return given


def _has_room(held: Sequence[Stretch], new: Stretch, gap: float) -> bool:
    return all(new[0] >= right + gap or new[1] + gap <= left for left, right in held)
