"""Put the invented workshop in place."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from builds.actions.demo import load_demo
from builds.actions.errors import Refused
from builds.models import Build


class Command(BaseCommand):
    help = "Fill the database with an invented workshop. Run twice, it is there once."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--if-empty", action="store_true", help="leave cars alone that are there"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if options["if_empty"] and Build.objects.exists():
            self.stdout.write("The workshop is as you left it.")
            return
        try:
            shop = load_demo()
        except Refused as error:
            raise CommandError(error.words) from error
        self.stdout.write(f"{shop} is open. Its clock stands at {shop.clock()}.")
