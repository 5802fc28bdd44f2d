"""What a caution is, the note that stands under every one, and those of a whole plan.

The words are our own; `source` names where the substance comes from. "Common
practice, no source" means what it says.
"""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "common practice, no source"

STANDING_NOTE = (
    "A reminder only: follow local codes and law, the maker's sheet and the workshop's "
    "own risk assessment, and leave licensed work to licensed people. Nothing here "
    "says that a job or a car is safe, tested or legal: only who signed it off, "
    "and when."
)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: its name, one or two lines, and where the substance comes from."""

    name: str
    words: str
    source: str
    url_hint: str | None = None


PLAN_CAUTIONS = (
    Caution(
        "Tired people in the last week",
        "Long hours before a show are a hazard of the plan itself. Look at the hours "
        "asked of each person, and move work or help before they are asked.",
        COMMON_PRACTICE,
    ),
)
