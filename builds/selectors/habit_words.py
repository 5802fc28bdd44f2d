"""A vendor's habit in words."""

from __future__ import annotations

from dataclasses import dataclass

from builds.charts import wording

LEADS = 5  # returns from which a vendor's own habit outweighs the trade's


@dataclass(frozen=True, slots=True)
class Habit:
    """What they say, what it usually is, and what one in ten takes longer than."""

    quote: float
    usual: float
    late: float
    returns: int
    kept: int  # returns within what was quoted

    @property
    def short(self) -> str:
        """Say it in a line: `Says 10, usually 13, 1 in 10 over 21`."""
        return (
            f"Says {self.quote:.0f}, usually {self.usual:.0f}, "
            f"1 in 10 over {self.late:.0f}"
        )

    @property
    def behind(self) -> str:
        """Say what stands behind it."""
        if not self.returns:
            return (
                "No returns yet: this is what is usual in the trade, of 10 days said."
            )
        kept = f"{self.kept} of {wording.counted(self.returns, 'return,returns')}"
        if self.returns < LEADS:
            return f"{kept} as quoted; mostly what is usual in the trade, still."
        return f"{kept} as quoted."
