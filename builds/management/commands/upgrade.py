"""Bring the database to this version, with a copy from before."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from builds.upkeep.copies import make_copy
from builds.upkeep.locked import CopyError


class Command(BaseCommand):
    help = "Copy everything, then apply the migrations; without any, do nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--without-copy", action="store_true", help="you have made one yourself"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        executor = MigrationExecutor(connection)
        if not executor.migration_plan(executor.loader.graph.leaf_nodes()):
            self.stdout.write("The database is of this version already.")
            return
        copy = None
        if executor.loader.applied_migrations and not options["without_copy"]:
            copy = self._copy()
        try:
            call_command("migrate", verbosity=0)
        except Exception as error:
            way = f"python manage.py restore --replace {copy}" if copy else ""
            raise CommandError(
                f"{type(error).__name__}: {error}\nThe version before is not lost."
                f" Put its program back, and then its data: {way or 'from your copy'}"
            ) from error
        self.stdout.write("The database is of this version now.")

    def _copy(self) -> Path:
        if not settings.BACKUP_FOLDER:
            raise CommandError(
                "BACKUP_FOLDER does not say where the copy from before goes. With one"
                " made by hand, --without-copy goes on."
            )
        try:
            path = make_copy(Path(settings.BACKUP_FOLDER), key=settings.BACKUP_KEY)
        except CopyError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"As it was before: {path}")
        return path
