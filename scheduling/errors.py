"""What can be wrong with a plan, and how it is said.

A `Fault` names one place, what is wrong there and what to do. `PlanError` carries
all of them at once, so that nobody has to fix a file one message at a time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong, in words a workshop can act on."""

    where: str
    what: str
    fix: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}. {self.fix}"


class PlanError(ValueError):
    """The plan cannot be used; `faults` lists every reason (never empty)."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class CycleError(PlanError):
    """Jobs wait for each other in a ring; `loop` names them in order."""

    def __init__(self, loop: Sequence[str]) -> None:
        self.loop = tuple(loop)
        ring = " → ".join([*self.loop, self.loop[0]])
        super().__init__(
            [
                Fault(
                    f"jobs/{self.loop[0]}",
                    f"these jobs wait for each other in a ring: {ring}",
                    "Take out one of the links.",
                )
            ]
        )
