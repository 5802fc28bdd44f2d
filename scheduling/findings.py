"""Everything computed for one plan, as records."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from scheduling.blocking import Holding
from scheduling.conditions import Condition
from scheduling.critical_path import Early, Late
from scheduling.errors import Fault
from scheduling.goals import Due, Goal
from scheduling.moves import Move
from scheduling.network import Network
from scheduling.readiness import Key, Odds
from scheduling.ring import Call
from scheduling.shared_plan import SharedPlan
from scheduling.wishes import Following


@dataclass(slots=True)
class Findings:
    """All that was computed for one plan; `answer_json` writes the published shape."""

    network: Network
    early: Early
    late: Late
    show_late: Late
    goals: dict[Key, Goal]
    wanted: dict[str | None, str]
    dues: tuple[Due, ...]
    holdings: dict[str, Holding]
    shared: SharedPlan
    following: Following | None
    odds: Odds
    alone: dict[Key, NDArray[np.float64]]
    conditions: dict[str, Condition]
    moves: Sequence[Move]
    calls: Sequence[Call]
    faults: Sequence[Fault]
    samples: int
    seed: int

    def moment(self, quarter: float) -> datetime:
        """Return a quarter as local wall clock."""
        return self.network.clocks.timeline.moment(quarter)
