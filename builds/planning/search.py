"""The long look for a better plan, a turn at a time.

Between two turns other work gets its chance, and the best so far lies in the
database: a worker that is killed loses one turn.
"""

from __future__ import annotations

import time

from django.utils import timezone

import scheduling
from builds.models import Forecast, ForecastState, Search, SearchState
from builds.planning.better import cost, figures, is_proven
from builds.planning.engine import Facts, look
from builds.planning.following import told_so
from builds.planning.pulse import Pulse, Tell
from builds.planning.question import Question, as_rows, brought_up, read_question
from builds.planning.replan import answered
from builds.planning.search_row import (
    TURN,
    claim,
    close,
    is_stopped,
    is_wanted,
    write,
)

LITTLE = 1.0  # seconds not worth a turn
DIED = "A worker broke down while it looked. What was found until then stands."


def one_turn(
    pk: int, turn: int, *, takes_over: bool = False, tell: Tell | None = None
) -> Search | None:
    """Look for one turn; None if the turn is somebody else's, or over.

    `takes_over` is for a message that came a second time: whoever had it is dead.
    `tell` hears the share done.
    """
    search = claim(pk, turn, takes_over=takes_over)
    if search is None:
        return None
    try:
        return _look(search, tell)
    except scheduling.PlanError as error:
        faults = as_rows(error.faults)
        return close(search, SearchState.FAILED, error=str(error), faults=faults)
    except Exception as error:
        close(search, SearchState.FAILED, error=f"{type(error).__name__}: {error}")
        raise


def _look(search: Search, tell: Tell | None) -> Search:
    question = read_question(at=search.at)
    if question.digest != search.input_hash:
        return close(search, SearchState.OVERTAKEN)
    # What is found goes before all answers, so it must not be for an earlier moment.
    question = brought_up(question)
    write(search, at=question.plan.now, input_hash=question.digest)
    forecast = answered(question, asked_at=search.asked_at)
    if search.before == search.after:  # nothing found yet
        known = figures(forecast.answer)
        write(search, before=known, after=known)
    if _interrupted(search):
        return _hand_on(search, over=False)
    if search.minutes * 60.0 - search.spent < LITTLE:
        return close(search, SearchState.FAILED, error=DIED)
    return _spend(search, question, forecast, tell)


def _spend(
    search: Search, question: Question, forecast: Forecast, tell: Tell | None
) -> Search:
    """Look for the turn's seconds, keep what is better, and see whether to go on."""
    whole = search.minutes * 60.0
    seconds = min(TURN, whole - search.spent)
    write(search, progress="Trying other orders of the work")
    pulse = Pulse(
        search,
        lambda: not _interrupted(search),
        begin=search.spent / whole,
        end=(search.spent + seconds) / whole,
        tell=tell,
    )
    began = time.monotonic()
    followed = {**forecast.answer, **(told_so() or {})}
    found = look(
        question.plan,
        seconds=seconds,
        turn=search.turn,
        following=followed,
        watch=pulse,
    )
    spent = time.monotonic() - began
    write(search, spent=search.spent + spent, seconds=search.spent + spent)
    if not _keep(search, question, forecast, found):
        return close(search, SearchState.OVERTAKEN)
    # An engine that comes back early of its own accord has nothing left to try.
    through = pulse.wanted and spent < seconds / 2
    left = whole - search.spent
    return _hand_on(search, over=through or is_proven(found) or left < LITTLE)


def _interrupted(search: Search) -> bool:
    """Say whether it was stopped, or a newer question waits for the worker."""
    waits = Forecast.objects.filter(state=ForecastState.QUEUED).exists()
    return waits or not is_wanted(search)


def _keep(search: Search, question: Question, forecast: Forecast, found: Facts) -> bool:
    """Put a better plan in place of the old one; False if the plan has changed since.

    The answer is the newest again from before the plan was looked at once more, so
    that a change made after that outranks it.
    """
    looked = timezone.now()
    current = read_question(at=search.at).digest == question.digest
    if cost(found, question.plan) < cost(forecast.answer, question.plan):
        write(search, after=figures(found))
        forecast.answer = found
        forecast.save(update_fields=["summary"])
        if current:
            Forecast.objects.filter(pk=forecast.pk).update(asked_at=looked)
    return current


def _hand_on(search: Search, *, over: bool) -> Search:
    if is_stopped(search):
        return close(search, SearchState.STOPPED)
    if over:
        return close(search, SearchState.DONE, share=1.0)
    share = search.spent / (search.minutes * 60.0)
    write(search, turn=search.turn + 1, share=share, seen=timezone.now())
    write(search, progress="Letting other work go first")
    Search.objects.filter(pk=search.pk, state=SearchState.RUNNING).update(
        state=SearchState.QUEUED
    )
    search.refresh_from_db(fields=["state"])
    return search
