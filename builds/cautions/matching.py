"""Which cautions concern a job: matched by the words it is written in."""

from __future__ import annotations

import re
from dataclasses import dataclass

from builds.cautions.body_rules import BODY_RULES
from builds.cautions.caution import Caution
from builds.cautions.mechanical_rules import MECHANICAL_RULES

DESK = ("bench", "lead")
HANDS_OFF = frozenset({"decision", "order", "mark"})
STRUCTURAL = "structural"


@dataclass(frozen=True, slots=True)
class Wording:
    """A job as the rules read it."""

    text: str
    kind: str

    def has(self, pattern: str) -> bool:
        """Return whether a pattern occurs, whatever the case of its letters."""
        return re.search(pattern, self.text, re.IGNORECASE) is not None


def cautions_for(
    title: str, kind: str, trade: str | None, phase: str, note: str, area: str
) -> tuple[Caution, ...]:
    """Return the cautions that concern one job, most general last.

    Parameters
    ----------
    title, phase, note, area : str
        What the job says of itself; any may be empty.
    kind : str
        The job's kind. Decisions, orders and marks put nobody at risk by
        hand, and neither does the lead's bench work, which is done at a desk.
    trade : str or None
        Who does it; structural work is taken to be welding.
    """
    if kind in HANDS_OFF or (kind, trade) == DESK:
        return ()
    welding = " (weld)" if trade == STRUCTURAL else ""
    job = Wording(f"{title}. {note}. {phase}. {area}{welding}", kind)
    return tuple(
        rule.caution
        for rule in (*BODY_RULES, *MECHANICAL_RULES)
        if kind in rule.kinds and all(job.has(pattern) for pattern in rule.patterns)
    )
