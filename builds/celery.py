"""The queue's app and what it does by the clock."""

import os
from typing import Any

from celery import Celery
from celery.schedules import crontab
from celery.signals import (
    before_task_publish,
    task_postrun,
    task_prerun,
    worker_process_init,
    worker_ready,
)

from builds.planning.warm import warm_soon
from builds.upkeep import request_ids

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")

app = Celery("builds")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
app.conf.beat_schedule = {
    "every night": {
        "task": "builds.tasks.replan.replan_workshop",
        "schedule": crontab(hour=3, minute=0),
    },
    "a copy every night": {
        "task": "builds.tasks.copies.copy_everything",
        "schedule": crontab(hour=2, minute=0),
    },
    # Whatever could not be handed over while Redis was away, or whose worker died.
    "three times a minute": {
        "task": "builds.tasks.undone.drain_queue",
        "schedule": 20.0,
        "options": {"expires": 20},
    },
}


@worker_process_init.connect
def warm(**_: object) -> None:
    """Load what is compiled before the first task, beside it if need be."""
    warm_soon()


@worker_ready.connect
def take_up(sender: Any, **_: object) -> None:
    """Take up at once what a worker before this one left undone."""
    sender.app.send_task("builds.tasks.undone.drain_queue")


@before_task_publish.connect
def send_code(headers: dict[str, Any], **_: object) -> None:
    """Send the code of the request along with the work it asks for."""
    headers["request_code"] = request_ids.current()


@task_prerun.connect
def take_code(task: Any, **_: object) -> None:
    """Log under the code of the request that asked for this."""
    request_ids.begin(getattr(task.request, "request_code", None) or "")


@task_postrun.connect
def drop_code(**_: object) -> None:
    """Forget the code: what is logged between two tasks belongs to neither."""
    request_ids.end()
