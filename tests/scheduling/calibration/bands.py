"""The bands the odds have to keep."""

from __future__ import annotations

from collections.abc import Sequence

from tests.scheduling.calibration.forecasts import POINTS
from tests.scheduling.calibration.scores import Event, row_of, table

MOST_OFF = 5.0  # points, any tenth of the table
BANDS = {"p80": (77.0, 83.0), "p50": (47.0, 53.0)}


def faults_of(events: Sequence[Event]) -> list[str]:
    """Return every band that is missed, in words; none where the odds come true."""
    found = []
    for kind, (least, most) in BANDS.items():
        row = row_of([one for one in events if one.kind == kind])
        if not least <= row.happened <= most:
            found.append(f"{kind.upper()} dates are kept {row.happened:.1f} in 100")
    for row in table([one for one in events if one.kind not in POINTS]):
        if abs(row.off) > MOST_OFF:
            found.append(f"given {row.told:.0f} in 100: {row.happened:.1f} happen")
    return found
