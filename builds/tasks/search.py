"""A long look for a better plan: one task for each turn."""

from __future__ import annotations

from typing import Any

from celery import shared_task
from django.db import transaction
from django.utils import timezone

from builds.models import Search, SearchState
from builds.planning.pulse import LOST
from builds.planning.search import one_turn
from builds.planning.search_row import give_back_lost
from builds.tasks.queue import came_again, publish


@shared_task(bind=True, name="builds.tasks.search.look_for_a_turn")
def look_for_a_turn(task: Any, pk: int, turn: int) -> None:
    """Look for one turn and leave the next to whoever is free."""
    search = one_turn(pk, turn, takes_over=came_again(task))
    if search and search.state == SearchState.QUEUED:
        publish(look_for_a_turn, search.pk, search.turn)


def begin(search: Search) -> None:
    """Hand the first turn over once the wish is kept."""
    transaction.on_commit(lambda: publish(look_for_a_turn, search.pk, search.turn))


def take_up_again() -> int:
    """Hand over what waits for a turn; give how many there are.

    A turn handed over twice is taken once.
    """
    give_back_lost()
    still = timezone.now() - LOST
    waiting = Search.objects.filter(state=SearchState.QUEUED).exclude(seen__gte=still)
    return sum(publish(look_for_a_turn, one.pk, one.turn) for one in waiting)
