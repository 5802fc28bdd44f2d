"""Say from a terminal what is well and what is not."""

from __future__ import annotations

import sys
from typing import Any

from django.core.management.base import BaseCommand

from builds.upkeep.health import checks


class Command(BaseCommand):
    help = "Say what is well; ends with 1 where there is an alarm."

    def handle(self, *args: Any, **options: Any) -> None:
        found = checks()
        for one in found:
            word = "well " if one.ok else "ALARM"
            self.stdout.write(f"{word} {one.name}: {one.says}")
        if not all(one.ok for one in found):
            sys.exit(1)
