"""Plan files spread over the workers: one task for each."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

from celery import shared_task
from django.utils import timezone

from builds.models import FileState, PlanFile
from builds.planning.many import answer_file, give_back_lost
from builds.planning.pulse import LOST
from builds.tasks.queue import came_again, publish

KEPT = timedelta(days=2)


@shared_task(bind=True, name="builds.tasks.files.answer_plan_file")
def answer_plan_file(task: Any, pk: int) -> None:
    """Answer one file; handed over twice, it is answered once."""
    answer_file(pk, takes_over=came_again(task))


def spread(files: Iterable[int]) -> int:
    """Hand the files over; give how many the queue took."""
    return sum(publish(answer_plan_file, pk) for pk in files)


def take_up_again() -> int:
    """Hand over what still waits, and forget what was answered days ago.

    Not while the line moves: hundreds may stand in it.
    """
    give_back_lost()
    now = timezone.now()
    ended = PlanFile.objects.filter(state__in=(FileState.DONE, FileState.FAILED))
    ended.filter(finished__lt=now - KEPT).delete()
    if PlanFile.objects.filter(seen__gte=now - LOST).exists():
        return 0
    waiting = PlanFile.objects.filter(state=FileState.QUEUED)
    return spread(waiting.values_list("pk", flat=True))
