"""How good the plan is, and what moved in it, in words a lead understands."""

from __future__ import annotations

import re

from builds.selectors.answers import Facts

PROVEN = "The plan is proven: no other order of the work ends sooner."


def plan_words(answer: Facts) -> str:
    """Say how near the plan is to the best there could be."""
    status = str(answer.get("plan", {}).get("status", ""))
    if status == "proven best":
        return PROVEN
    within = re.search(r"within (\S+) %", status)
    if within:
        return (
            f"The plan is within {within[1]} % of the shortest that any plan could be."
        )
    return f"The plan is {status}." if status else ""
