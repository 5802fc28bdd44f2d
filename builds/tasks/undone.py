"""See to it that nothing that was asked for stays undone."""

from __future__ import annotations

from celery import shared_task

from builds.models import Forecast, ForecastState, LifeSign
from builds.planning.replan import give_back_lost, replan
from builds.tasks import files, search


@shared_task(name="builds.tasks.undone.drain_queue")
def drain_queue() -> None:
    """Take up what waits, if anything does; being asked is a sign of life."""
    LifeSign.leave(LifeSign.WORKER)
    drain()


def drain() -> int:
    """Answer the forecasts no worker has taken, or one took and lost; give how many.

    Longer work is handed to the queue again.
    """
    give_back_lost()
    waiting = Forecast.objects.filter(state=ForecastState.QUEUED).count()
    if waiting:
        replan()
    search.take_up_again()
    files.take_up_again()
    return waiting
