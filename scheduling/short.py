"""The faults of a plan that had to give: nobody, no room, or no slot for a job."""

from __future__ import annotations

from scheduling.errors import Fault
from scheduling.timeline import PER_HOUR
from scheduling.work import Work


def nobody(work: Work) -> Fault:
    """Return the fault of a job that nobody here can do."""
    job = work.job
    need = f"{job.people} with {job.trade}" if job.people > 1 else f"{job.trade}"
    level = max(job.trade_level or 2, 2)
    return Fault(
        f"jobs/{job.id}",
        f"nobody here can do “{job.title or job.id}”: "
        f"it asks for {need} at level {level}",
        "Name somebody, train somebody, or send it out.",
    )


def no_room(work: Work) -> Fault:
    """Return the fault of a job for which no time was found."""
    job = work.job
    return Fault(
        f"jobs/{job.id}",
        f"no time was found for “{job.title or job.id}” with its people and places "
        f"({work.length / PER_HOUR:.1f} h)",
        "Look at days away, the places it uses, and whether it may be broken off.",
    )


def no_slot(work: Work) -> Fault:
    """Return the fault of a job for which its vendor has no slot."""
    job = work.job
    return Fault(
        f"jobs/{job.id}",
        f"“{job.title or job.id}” finds no slot at {job.vendor} that is still free",
        "Ask the vendor for a nearer first slot or a shorter spacing.",
    )
