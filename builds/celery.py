"""The queue's app and what it does by the clock."""

import os

from celery import Celery
from celery.schedules import crontab

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")

app = Celery("builds")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
app.conf.beat_schedule = {
    "every night": {
        "task": "builds.tasks.replan.replan_workshop",
        "schedule": crontab(hour=3, minute=0),
    },
    # Whatever could not be handed over while Redis was away.
    "every minute": {
        "task": "builds.tasks.replan.drain_queue",
        "schedule": crontab(),
    },
}
