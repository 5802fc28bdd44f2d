"""Put a copy of everything back."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection

from builds.models import Build, User
from builds.upkeep.copies import put_back
from builds.upkeep.locked import CopyError


class Command(BaseCommand):
    help = "Put a copy back in the place of what is there. Stop the site first."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file")
        parser.add_argument(
            "--replace", action="store_true", help="even where there are cars already"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if _lived_in() and not options["replace"]:
            raise CommandError(
                "There is a workshop here already. --replace puts the copy there."
            )
        try:
            facts = put_back(Path(options["file"]), key=settings.BACKUP_KEY)
        except CopyError as error:
            raise CommandError(str(error)) from error
        rows = sum(facts["rows"].values())
        self.stdout.write(f"All is as it was on {facts['made'][:16]}: {rows} rows.")
        self.stdout.write("Run `python manage.py upgrade` before you serve it.")


def _lived_in() -> bool:
    tables = connection.introspection.table_names()
    if Build._meta.db_table not in tables:
        return False
    return Build.objects.exists() or User.objects.exists()
