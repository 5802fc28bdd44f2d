"""The row of a long look: taken by one worker at a time, given back, closed."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone

import scheduling
from builds.models import Search, SearchState, User
from builds.models.search import OPEN
from builds.planning.pulse import LOST
from builds.planning.question import read_question

TURN = 20.0  # seconds; well below the longest a task may run


def open_search(*, by: User | None, minutes: int, at: datetime) -> Search | None:
    """Ask for a long look; None if this very plan is being looked at already.

    Raises PlanError if the plan cannot be used. A look at an older plan ends; that
    the clock has run on makes no plan older.
    """
    question = read_question(at=at)
    if any(is_current(one) for one in Search.objects.open()):
        return None
    try:
        with transaction.atomic():
            search = Search.objects.create(
                input_hash=question.digest, at=question.plan.now, minutes=minutes, by=by
            )
    except IntegrityError:
        return None
    older = Search.objects.open().exclude(pk=search.pk)
    older.update(state=SearchState.OVERTAKEN, finished=timezone.now(), progress="")
    return search


def is_current(search: Search) -> bool:
    """Say whether the plan is still the one looked at: the same, read for its moment.

    The moment is part of every question, so the hash of now would always differ.
    """
    try:
        return read_question(at=search.at).digest == search.input_hash
    except scheduling.PlanError:
        return False


def claim(pk: int, turn: int, *, takes_over: bool) -> Search | None:
    """Take the turn, unless another worker has it or had it.

    A turn in which a worker died counts as spent: the solver can bring a process down,
    and a plan of which every worker dies must come to an end, too.
    """
    states = OPEN if takes_over else (SearchState.QUEUED,)
    if takes_over:
        died = Search.objects.filter(pk=pk, turn=turn, state=SearchState.RUNNING)
        died.update(spent=F("spent") + TURN)
    taken = Search.objects.filter(pk=pk, turn=turn, state__in=states).update(
        state=SearchState.RUNNING, seen=timezone.now(), progress="Reading the plan"
    )
    return Search.objects.get(pk=pk) if taken else None


def is_stopped(search: Search) -> bool:
    """Say whether someone has asked it to stop."""
    return Search.objects.filter(pk=search.pk, stop_asked=True).exists()


def is_wanted(search: Search) -> bool:
    """Say whether it is neither stopped nor overtaken by a newer one."""
    going = Search.objects.filter(pk=search.pk, state=SearchState.RUNNING)
    return going.filter(stop_asked=False).exists()


def end_if_idle(search: Search) -> None:
    """End a stopped one that no worker has in hand."""
    Search.objects.filter(pk=search.pk, state=SearchState.QUEUED).update(
        state=SearchState.STOPPED, finished=timezone.now(), progress=""
    )


def write(search: Search, **facts: object) -> None:
    """Write what the worker knows; `stop_asked` belongs to the people."""
    for name, value in facts.items():
        setattr(search, name, value)
    search.save(update_fields=list(facts))


def close(search: Search, state: SearchState, **facts: object) -> Search:
    """End it; one that a newer look has overtaken stays overtaken."""
    now = timezone.now()
    write(search, finished=now, seen=now, progress="", seconds=search.spent, **facts)
    Search.objects.filter(pk=search.pk, state__in=OPEN).update(state=state)
    search.refresh_from_db(fields=["state"])
    return search


def give_back_lost() -> None:
    """Queue again what was taken by someone who gives no sign of life."""
    Search.objects.filter(
        state=SearchState.RUNNING, seen__lt=timezone.now() - LOST
    ).update(
        state=SearchState.QUEUED,
        progress="Taken up again",
        spent=F("spent") + TURN,
    )
