"""Do the odds come true? `python -m tests.scheduling.calibration.calibrate [LIVES]`.

Invented workshops are lived day by day (`life`); what the engine foretold on the
first morning and on every tenth after is compared with what happened. The exit code
is 1 where a band is missed, or where an engine told of no shared factors passes too.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from multiprocessing import get_context

from tests.scheduling.calibration.bands import faults_of
from tests.scheduling.calibration.forecasts import POINTS, VARIANTS, lived
from tests.scheduling.calibration.invent import invent
from tests.scheduling.calibration.scores import Event, brier, murphy, row_of, table

LIVES = 240
PROCESSES = 2


def main() -> int:
    lives = int(sys.argv[1]) if len(sys.argv) > 1 else LIVES
    began = time.monotonic()
    events = gather(lives)
    cars = sum(len(invent(seed)["builds"]) for seed in range(lives))
    print(f"{lives} workshops, {cars} cars, {time.monotonic() - began:.0f} s\n")
    for name, found in events.items():
        show(f"The engine {name}", found)
    true, *bent = (faults_of(found) for found in events.values())
    if not bent[-1]:
        true.append("an engine without shared factors passes: the table is blind")
    for fault in true:
        print(f"MISSED: {fault}")
    print("The odds do not come true." if true else "The odds come true.")
    return 1 if true else 0


def gather(lives: int) -> dict[str, list[Event]]:
    """Return the events of many lives by variant of the engine, in order of seeds."""
    events: dict[str, list[Event]] = {name: [] for name in VARIANTS}
    with get_context("spawn").Pool(PROCESSES) as pool:
        for found in pool.imap(lived, range(lives)):
            for name, more in found.items():
                events[name] += more
    return events


def show(title: str, events: Sequence[Event]) -> None:
    """Print one engine's table; +/- is a standard error over workshops."""
    dated = [one for one in events if one.kind not in POINTS]
    print(title)
    print("   told in 100   happened      off    +/-    events")
    for row in table(dated):
        print(
            f"   {row.told:11.1f}{row.happened:11.1f}{row.off:+9.1f}"
            f"{row.error:7.1f}{row.count:10}"
        )
    for kind in POINTS:
        for words, some in (("first morning", True), ("later", False)):
            chosen = [o for o in events if o.kind == kind and some == (not o.morning)]
            row = row_of(chosen)
            print(
                f"   by its {kind.upper()} date, {words:13}: {row.happened:5.1f} in 100"
                f"  +/- {row.error:.1f}  ({row.count})"
            )
    reliability, resolution, uncertainty = murphy(dated)
    print(
        f"   Brier {brier(dated):.4f} = reliability {reliability:.4f} "
        f"- resolution {resolution:.4f} + uncertainty {uncertainty:.4f}\n"
    )


if __name__ == "__main__":
    sys.exit(main())
