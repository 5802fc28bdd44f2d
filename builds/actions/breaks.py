"""Whether an act leaves the plan whole, asked before it is kept."""

from __future__ import annotations

from collections.abc import Collection

from builds.actions.errors import PlanRefused
from builds.models import Job
from builds.planning.rules import find_faults, find_faults_of


def check_what_it_broke(
    touched: Collection[Job], *, typed: bool, everywhere: bool
) -> None:
    """Refuse what makes the plan wrong; what was wrong elsewhere before is no reason.

    An act on some jobs can only break what hangs on them. One on no job in particular
    may be felt by any of them, but leaves their own text as it was, unless somebody
    filled in something `everywhere`.
    """
    if touched:
        faults = find_faults_of(touched, typed=typed)
    else:
        faults = find_faults(typed=None if everywhere else ())
    if faults:
        raise PlanRefused(
            [{"where": one.where, "what": one.what, "fix": one.fix} for one in faults]
        )
