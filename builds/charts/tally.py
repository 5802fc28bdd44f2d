"""A week of hours as a tally: strokes hang from a line, and lean above it.

/ / / /            asked for beyond the hours there are: leaning, above the line
─────────────────
▮ ▮ ▮ ▮ ▮   ▮ ▯    the hours there are: solid where the plan uses them, else open
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

STROKES = 10  # in a rank; a gap after five, as one tallies by hand
STEP, GAP, WIDE = 7.0, 5.0, 4.5
RANK, BETWEEN = 14.0, 4.0
WIDTH = STROKES * STEP + GAP
LEAN = 3.0
LEAST = 0.05  # of a stroke, below which nothing is seen
SIZES = (4.0, 8.0, 24.0, 48.0)  # hours of a stroke; the first that keeps ranks few
MOST_RANKS = 3


@dataclass(frozen=True, slots=True)
class Stroke:
    """An upright stroke of the hours there are: `height` of it, `solid` of that."""

    x: float
    y: float
    height: float
    solid: float


@dataclass(frozen=True, slots=True)
class Tally:
    """The strokes of one week, and the three paths that draw them."""

    height: float
    line: float
    own: tuple[Stroke, ...]
    leaning: tuple[str, ...]
    width: float = WIDTH

    @property
    def outline(self) -> str:
        """Give the path around the hours there are."""
        return "".join(_box(one.x, one.y, one.height) for one in self.own)

    @property
    def solid(self) -> str:
        """Give the path of those that the plan uses."""
        return "".join(_box(one.x, one.y, one.solid) for one in self.own if one.solid)

    @property
    def over(self) -> str:
        """Give the path of the hours beyond."""
        return "".join(self.leaning)


@dataclass(frozen=True, slots=True)
class Frame:
    """What all weeks of one row share: hours of a stroke, ranks above and below."""

    stroke: float
    above: int
    below: int


def frame(stroke: float, own: Sequence[float], over: Sequence[float]) -> Frame:
    """Give a frame that holds every week of a row."""
    return Frame(
        stroke,
        above=_ranks(max(over, default=0), stroke),
        below=max(1, _ranks(max(own, default=0), stroke)),
    )


def stroke_size(hours: Sequence[float]) -> float:
    """Give the hours of a stroke that keep the longest week within a few ranks."""
    most = max(hours, default=0.0)
    fits = (one for one in SIZES if most <= one * STROKES * MOST_RANKS)
    return next(fits, SIZES[-1])


def tally(own: float, given: float, over: float, frame: Frame) -> Tally:
    """Draw one week's hours in its row's frame."""
    line = frame.above * (RANK + BETWEEN) + 1
    height = line + frame.below * (RANK + BETWEEN) + 1
    return Tally(
        height=height,
        line=line,
        own=tuple(_own(own / frame.stroke, given / frame.stroke, line)),
        leaning=tuple(_over(over / frame.stroke, line)),
    )


def _box(x: float, y: float, height: float) -> str:
    return f"M{x:g} {y:g}h{WIDE}v{height:g}h-{WIDE}z"


def _ranks(hours: float, stroke: float) -> int:
    return math.ceil(hours / stroke / STROKES - LEAST / STROKES) if hours else 0


def _parts(strokes: float) -> list[float]:
    """Give how much of each stroke is drawn, the last one in part."""
    count = math.ceil(strokes - LEAST)
    return [min(1.0, strokes - number) for number in range(count)]


def _place(number: int) -> tuple[float, int]:
    rank, at = divmod(number, STROKES)
    return at * STEP + (GAP if at >= STROKES // 2 else 0.0) + 1, rank


def _own(own: float, given: float, line: float) -> list[Stroke]:
    strokes = []
    for number, part in enumerate(_parts(own)):
        x, rank = _place(number)
        solid = min(part, max(0.0, given - number))
        y = line + BETWEEN + rank * (RANK + BETWEEN)
        strokes.append(Stroke(x, y, round(part * RANK, 1), round(solid * RANK, 1)))
    return strokes


def _over(over: float, line: float) -> list[str]:
    paths = []
    for number, part in enumerate(_parts(over)):
        x, rank = _place(number)
        foot = line - BETWEEN - rank * (RANK + BETWEEN)
        paths.append(f"M{x:.1f} {foot:.1f}l{LEAN * part + 1:.1f} {-RANK * part:.1f}")
    return paths
