"""Put the invented workshop in place."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from builds.actions.demo import load_demo
from builds.actions.errors import Refused


class Command(BaseCommand):
    help = "Fill the database with an invented workshop. Run twice, it is there once."

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            shop = load_demo()
        except Refused as error:
            raise CommandError(error.words) from error
        self.stdout.write(f"{shop} is open. Its clock stands at {shop.clock()}.")
