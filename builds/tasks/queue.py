"""Hand work to the queue, where there is one."""

from __future__ import annotations

import logging
from typing import Any

from django.conf import settings
from kombu.exceptions import OperationalError

log = logging.getLogger(__name__)


def publish(task: Any, *facts: int) -> bool:
    """Hand over a task; what cannot be handed over waits in its row for the drain."""
    if not settings.REDIS_URL:
        return False
    try:
        task.delay(*facts)
    except OperationalError as error:
        log.warning("The queue is away; the work waits for it: %s", error)
        return False
    return True


def came_again(task: Any) -> bool:
    """Say whether the queue hands this message out a second time."""
    told = task.request.delivery_info or {}
    return bool(told.get("redelivered"))
