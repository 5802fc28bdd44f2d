"""What must hold before the site starts."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, register


@register
def no_task_runs_twice(**_: Any) -> list[CheckMessage]:
    """Refuse limits under which the queue hands a task out while it still runs.

    Celery's documentation, "Redis caveats: visibility timeout".
    """
    waits = settings.CELERY_BROKER_TRANSPORT_OPTIONS["visibility_timeout"]
    if waits > settings.CELERY_TASK_TIME_LIMIT > settings.CELERY_TASK_SOFT_TIME_LIMIT:
        return []
    return [
        Error(
            "A task may run longer than the queue waits for it, and would run twice.",
            hint="CELERY_TASK_SOFT_TIME_LIMIT < CELERY_TASK_TIME_LIMIT"
            " < visibility_timeout.",
            id="builds.E001",
        )
    ]
