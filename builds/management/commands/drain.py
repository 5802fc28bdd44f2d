"""Answer what the queue could not be told."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from builds.tasks.undone import drain


class Command(BaseCommand):
    help = "Work out the forecasts that wait because the queue was away."

    def handle(self, *args: Any, **options: Any) -> None:
        self.stdout.write(f"{drain()} waited.")
