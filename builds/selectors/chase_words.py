"""What to ask in a call."""

from __future__ import annotations

from collections.abc import Iterator

from builds.charts import wording
from builds.models import Job, Kind

TWICE = 2


def questions(
    job: Job, group: str, slips: int, in_hand: float | None
) -> tuple[str, ...]:
    """Give what to ask about a job that is out, a sentence each."""
    return tuple(_questions(job, group, slips, in_hand))


def counts_differ(job: Job) -> bool:
    """Say whether the vendor's note says another number than went out."""
    noted, went = job.pieces_noted, job.pieces
    return noted is not None and went is not None and noted != went


def _questions(
    job: Job, group: str, slips: int, in_hand: float | None
) -> Iterator[str]:
    if job.kind == Kind.DECISION:
        yield "Has it been chosen? Say by when it is needed."
        return
    yield from _date_question(job, group, slips)
    yield from _count_questions(job)
    if in_hand is not None and in_hand < 0:
        days = wording.days(-in_hand)
        yield f"It is {days} late for the show already: what would bring it forward?"
    elif in_hand is not None and in_hand < 10:
        yield f"It can slip {wording.days(in_hand)} before the show is missed."


def _date_question(job: Job, group: str, slips: int) -> Iterator[str]:
    if group == "overdue":
        yield "Which day is it really back?"
    elif group == "today":
        yield "Is it ready to collect today?"
    elif group == "week":
        yield f"Is {wording.day(job.promised)} still good?"
    elif job.promised is not None:
        yield f"Does {wording.day(job.promised)} still stand?"
    elif job.back_order:
        yield "When do they expect it in, and who else might have one?"
    else:
        yield "Which day? “Any day now” is not one."
    if slips >= TWICE:
        moved = wording.counted(slips, "time,times")
        yield f"The date has moved {moved}: what has changed, and which day holds?"


def _count_questions(job: Job) -> Iterator[str]:
    noted, went = job.pieces_noted, job.pieces
    if counts_differ(job):
        yield f"{went} went out, their note says {noted}: ask them to count."
    if went and 0 < job.pieces_back < went:
        yield f"{job.pieces_back} of {went} are back: when do the others follow?"
    if job.pieces_wrong:
        wrong = wording.counted(job.pieces_wrong, "piece,pieces")
        yield f"{wrong} came wrong: when do the right ones come?"
