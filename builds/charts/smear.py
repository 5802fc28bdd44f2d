"""A finish that is not a line: one time in ten before it, one time in ten after."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from builds.charts import wording
from builds.charts.scale import Scale

STRIP_WIDTH = 200.0
FIGURE = 20.0  # paper that two figures take


@dataclass(frozen=True, slots=True)
class Finish:
    """When it is ready in 10, 50, 80 and 90 of 100 runs."""

    p10: datetime
    p50: datetime
    p80: datetime
    p90: datetime


@dataclass(frozen=True, slots=True)
class Smear:
    """Where the stretch lies, and the same in words."""

    x10: float
    x50: float
    x80: float
    x90: float
    words: str

    @property
    def wide(self) -> float:
        """Give the width from one in ten to nine in ten."""
        return round(self.x90 - self.x10, 1)

    @property
    def middle(self) -> float:
        """Give the width from even to eight in ten."""
        return round(self.x80 - self.x50, 1)

    @property
    def label_80(self) -> bool:
        """Say whether the tick at 80 has room for its figure."""
        return self.x80 - self.x50 >= FIGURE

    @property
    def label_90(self) -> bool:
        """Say whether the tick at 90 has room for its figure."""
        last = self.x80 if self.label_80 else self.x50
        return self.x90 - last >= FIGURE


@dataclass(frozen=True, slots=True)
class SmearStrip:
    """A smear with its own scale: from now to a post, in a line of a list."""

    width: float
    smear: Smear
    post: float | None


def smear(finish: Finish, scale: Scale) -> Smear:
    """Lay a finish on a scale."""
    words = (
        f"even chance by {wording.day(finish.p50)}, "
        f"80 in 100 by {wording.day(finish.p80)}, "
        f"90 in 100 by {wording.day(finish.p90)}"
    )
    return Smear(
        x10=scale.at(finish.p10),
        x50=scale.at(finish.p50),
        x80=scale.at(finish.p80),
        x90=scale.at(finish.p90),
        words=words,
    )


def strip_scale(
    finishes: list[Finish], *, now: datetime, move_in: datetime | None
) -> Scale:
    """Give one scale for several strips, so that they can be read one under another."""
    ends = [finish.p90 for finish in finishes] + ([move_in] if move_in else [])
    end = max([*ends, now + timedelta(days=1)])
    room = (end - now) * 0.04
    return Scale(now, end + room, 0.0, STRIP_WIDTH)


def smear_strip(
    finish: Finish,
    *,
    now: datetime,
    move_in: datetime | None,
    scale: Scale | None = None,
) -> SmearStrip:
    """Lay a finish between now and the move-in, by itself or on a shared scale."""
    scale = scale or strip_scale([finish], now=now, move_in=move_in)
    post = scale.at(move_in) if move_in else None
    return SmearStrip(STRIP_WIDTH, smear(finish, scale), post)
