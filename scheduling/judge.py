"""An independent judge of a shared plan: what in it cannot really be worked to.

It knows the plan file and the published answer and nothing of the planner: its own
calendars (`judge_days`), its own rules of order (`judge_order`) and of people, places,
slots and hours (`judge_hands`). Two programs that agree seldom make one mistake.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from scheduling.errors import Fault
from scheduling.judge_case import read_case
from scheduling.judge_hands import over_used
from scheduling.judge_order import out_of_order
from scheduling.plan import Plan


def broken_rules(plan: Plan, answer: Mapping[str, Any]) -> tuple[Fault, ...]:
    """Return every rule of the workshop that an answer's planned times break.

    Parameters
    ----------
    plan : Plan
    answer : mapping
        As `Answer.as_dict` gives it; only `planned_start`, `planned_finish` and `who`
        of its jobs and the places named in its `problems` are read.

    Returns
    -------
    tuple of Fault
        Empty if nobody and nothing is in two places, all hours fit, and every
        link, wait, check, slot and consignment holds.

    Notes
    -----
    Jobs the answer itself reports as having nobody or no time are held to their
    links only. Working by day and quarter-hour it is O(jobs x days), far slower than
    the planner and meant for checking it.

    Examples
    --------
    >>> from scheduling.plan_file import read_plan
    >>> plan = read_plan({"now": "2027-01-04T08:00", "jobs": [
    ...     {"id": "weld", "estimate": {"likely": 3}}]})
    >>> told = {"planned_start": "2027-01-04T08:00",
    ...         "planned_finish": "2027-01-04T10:00"}
    >>> [fault.what for fault in broken_rules(plan, {"jobs": {"weld": told}})]
    ['“weld” needs 3.00 and is given 2.00']
    """
    case, found = read_case(plan, answer)
    return (*found, *out_of_order(case), *over_used(case))
