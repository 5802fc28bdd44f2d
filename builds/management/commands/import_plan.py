"""Replace the workshop by a plan file."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from builds.actions.errors import PlanRefused
from builds.actions.exchange import replace_plan


class Command(BaseCommand):
    help = "Replace the whole workshop by a plan file. A file with faults does nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file")
        parser.add_argument(
            "--stop-clock",
            action="store_true",
            help="let the workshop's clock stand at the file's own moment",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            text = Path(options["file"]).read_bytes()
        except OSError as error:
            raise CommandError(f"{options['file']}: {error.strerror}.") from error
        try:
            replace_plan(by=None, text=text, pin_clock=options["stop_clock"])
        except PlanRefused as error:
            for one in error.faults:
                line = f"{one['where']}: {one['what']}. {one['fix']}"
                self.stderr.write(" ".join(line.split()))
            sys.exit(2)
        self.stdout.write("The workshop is as the file says.")
