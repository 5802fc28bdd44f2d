"""Write everything out for good: plan, record, media."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from builds.upkeep.everything import export_everything


class Command(BaseCommand):
    help = "Write one zip file: plan.json, record.csv, told.csv and all media."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file")

    def handle(self, *args: Any, **options: Any) -> None:
        Path(options["file"]).write_bytes(export_everything())
        self.stdout.write(f"{options['file']} holds all that is known here.")
