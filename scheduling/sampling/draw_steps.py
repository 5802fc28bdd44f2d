"""Fills rows of drawn lengths, for compiling; `draws` does the same in numpy."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare
from scheduling.sampling.quantiles import read_one
from scheduling.sampling.uniforms import uniform

Floats = NDArray[np.float64]


@apart
def draw(
    row: Floats,
    table: Floats,
    common: Floats,
    key: np.uint64,
    offset: int,
    pace: float,
) -> None:
    """Fill one row with lengths of one law."""
    for s in range(len(row)):
        row[s] = read_one(table, uniform(key, offset + s)) * common[s] * pace


@bare
def draw_rows(
    asks: NDArray[Any],
    tables: Floats,
    commons: Floats,
    amounts: Floats,
    offset: int,
    first: int,
    step: int,
) -> None:
    """Fill the rows first, first + step ... that are asked for."""
    for at in range(first, len(asks), step):
        ask = asks[at]
        table, fresh, common = tables[ask.table], tables[ask.fresh], commons[ask.common]
        row, key, pace = amounts[ask.row], ask.key, ask.pace
        draw(row, table, common, key, offset, pace)
        if ask.chance > 0.0:
            again, second = ask.again, ask.second
            for s in range(len(row)):
                if uniform(again, offset + s) < ask.chance:
                    whole = read_one(fresh, uniform(second, offset + s))
                    row[s] += whole * common[s] * pace
