"""Whether a plan makes sense: every reason why not, each with what to do."""

from __future__ import annotations

from itertools import chain

from scheduling.consignment_checks import consignment_faults
from scheduling.date_checks import date_faults
from scheduling.errors import Fault
from scheduling.id_checks import id_faults
from scheduling.job_checks import job_faults
from scheduling.outside_checks import outside_faults
from scheduling.piece_checks import piece_faults
from scheduling.plan import Plan
from scheduling.ring_checks import ring_faults


def check_plan(plan: Plan) -> tuple[Fault, ...]:
    """Return everything that cannot be true of a plan, or an empty tuple.

    Parameters
    ----------
    plan : Plan
        From a file or from anywhere else.

    Returns
    -------
    tuple of Fault
        Ids first, then days and hours, single jobs, work outside, pieces, consignments
        and rings; each group in the order of the plan. Nobody free to do a job is no
        fault: people come and go, and the answer says so.

    Notes
    -----
    O(jobs + links).
    """
    return tuple(
        chain(
            id_faults(plan),
            date_faults(plan),
            job_faults(plan),
            outside_faults(plan),
            piece_faults(plan),
            consignment_faults(plan),
            ring_faults(plan),
        )
    )
