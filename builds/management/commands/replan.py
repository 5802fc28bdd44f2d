"""Work out a new forecast now."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from builds.models import ForecastState
from builds.planning.replan import replan


class Command(BaseCommand):
    help = "Work out the forecast for the workshop as it stands."

    def handle(self, *args: Any, **options: Any) -> None:
        forecast = replan()
        if forecast.state == ForecastState.FAILED:
            raise CommandError(forecast.error)
        self.stdout.write(f"Answered in {forecast.seconds or 0:.1f} s.")
