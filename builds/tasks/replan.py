"""Keep the forecast up to date."""

from __future__ import annotations

import logging

from celery import shared_task
from django.conf import settings
from django.db import transaction

from builds.models import Forecast, ForecastState
from builds.planning.replan import replan
from builds.tasks.queue import publish

log = logging.getLogger(__name__)


@shared_task(name="builds.tasks.replan.replan_workshop")
def replan_workshop() -> None:
    """Answer the plan as it stands; run twice, the second finds it answered."""
    replan()


def request_replan() -> None:
    """Leave the wish for a new forecast with the change that calls for it."""
    Forecast.objects.create(state=ForecastState.QUEUED)
    transaction.on_commit(_hand_over)


def _hand_over() -> None:
    """Publish, or do it on the spot. What fails stays queued: the change is kept."""
    try:
        if settings.REDIS_URL:
            publish(replan_workshop)
        elif Forecast.objects.filter(state=ForecastState.QUEUED).exists():
            replan()
    except Exception:
        log.exception("The forecast failed; what was changed is kept.")
