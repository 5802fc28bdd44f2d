"""Cars that are left out for now: their jobs are out of the plan with them."""

from __future__ import annotations

from dataclasses import replace

from scheduling.plan import Plan


def without_resting(plan: Plan) -> Plan:
    """Return the plan with every job still to do of a car left out left out, too.

    Such a job takes no time and nobody's hands, and passes on what it waits for, as
    any job left out. What is done stays done.
    """
    resting = {one.id for one in plan.builds if one.left_out}
    if not any(job.build in resting and job.state != "done" for job in plan.jobs):
        return plan
    jobs = tuple(
        replace(job, state="left out", started=None)
        if job.build in resting and job.state != "done"
        else job
        for job in plan.jobs
    )
    return replace(plan, jobs=jobs)
