"""Keep the forecast up to date."""

from __future__ import annotations

import logging
from datetime import timedelta

from celery import shared_task
from django.conf import settings
from django.db import transaction
from django.utils import timezone
from kombu.exceptions import OperationalError

from builds.models import Forecast, ForecastState
from builds.planning.replan import replan

log = logging.getLogger(__name__)

LOST = timedelta(minutes=5)  # longer than a task may run


@shared_task(name="builds.tasks.replan.replan_workshop")
def replan_workshop() -> None:
    """Answer the plan as it stands; run twice, the second finds it answered."""
    replan()


@shared_task(name="builds.tasks.replan.drain_queue")
def drain_queue() -> None:
    """Answer what is still waiting, if anything is."""
    drain()


def request_replan() -> None:
    """Leave the wish for a new forecast with the change that calls for it."""
    Forecast.objects.create(state=ForecastState.QUEUED)
    transaction.on_commit(_hand_over)


def drain() -> int:
    """Answer what no worker has taken, or one took and lost; give how many waited."""
    lost = Forecast.objects.filter(
        state=ForecastState.RUNNING, asked_at__lt=timezone.now() - LOST
    )
    lost.update(state=ForecastState.QUEUED)
    waiting = Forecast.objects.filter(state=ForecastState.QUEUED).count()
    if waiting:
        replan()
    return waiting


def _hand_over() -> None:
    """Publish, or do it on the spot. What fails stays queued: the change is kept."""
    try:
        if settings.REDIS_URL:
            replan_workshop.delay()
        elif Forecast.objects.filter(state=ForecastState.QUEUED).exists():
            replan()
    except OperationalError as error:
        log.warning("The queue is away; the forecast waits for it: %s", error)
    except Exception:
        log.exception("The forecast failed; what was changed is kept.")
