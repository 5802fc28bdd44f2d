"""The nightly copy, where there is a place for it."""

from __future__ import annotations

from pathlib import Path

from celery import shared_task
from django.conf import settings

from builds.upkeep.copies import make_copy
from builds.upkeep.kept import tidy

LIMIT = 270  # media take longer than a forecast, and still less than the queue waits


@shared_task(
    name="builds.tasks.copies.copy_everything",
    soft_time_limit=LIMIT - 20,
    time_limit=LIMIT,
)
def copy_everything() -> None:
    """Copy everything and let old copies go; done twice, there are two."""
    if not settings.BACKUP_FOLDER:
        return
    folder = Path(settings.BACKUP_FOLDER)
    make_copy(folder, key=settings.BACKUP_KEY)
    tidy(folder)
