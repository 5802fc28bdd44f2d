"""Write the whole workshop as a plan file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from builds.planning.exchange import export_plan


class Command(BaseCommand):
    help = "Write the whole workshop as a plan file: a backup, or for another program."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", nargs="?", help="where to; else standard output")

    def handle(self, *args: Any, **options: Any) -> None:
        text = export_plan()
        if options["file"]:
            Path(options["file"]).write_text(text, encoding="utf-8")
        else:
            self.stdout.write(text, ending="")
