"""Make a locked copy of everything, and let old ones go."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from builds.upkeep.copies import make_copy
from builds.upkeep.kept import tidy
from builds.upkeep.locked import CopyError, new_key


class Command(BaseCommand):
    help = "Copy database and media into one locked file in BACKUP_FOLDER."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--new-key", action="store_true", help="make a key, no copy"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if options["new_key"]:
            self.stdout.write(new_key())
            return
        if not settings.BACKUP_FOLDER:
            raise CommandError("BACKUP_FOLDER does not say where copies go.")
        folder = Path(settings.BACKUP_FOLDER)
        try:
            path = make_copy(folder, key=settings.BACKUP_KEY)
        except CopyError as error:
            raise CommandError(str(error)) from error
        gone = tidy(folder)
        self.stdout.write(f"{path} is made; {len(gone)} older let go.")
