"""Will the cars be ready: the four answers, from a plan file or the database."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from builds.planning.exchange import PlanError
from builds.planning.readiness import Effort, work_out


def _whole(text: str, least: int) -> int:
    try:
        number = int(text)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a whole number") from error
    if number < least:
        raise ArgumentTypeError(f"{number} is less than {least}")
    return number


def _count(text: str) -> int:
    return _whole(text, 1)


def _seed(text: str) -> int:
    return _whole(text, 0)


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a number of seconds") from error
    if not 0 <= seconds <= 3600:
        raise ArgumentTypeError(f"{text} is not between 0 and 3600 seconds")
    return seconds


class Command(BaseCommand):
    help = "Say how ready the cars will be, and what to do about it this morning."
    requires_system_checks = ()  # a file needs neither a database nor a key

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", nargs="?", help="a plan file; else the database")
        parser.add_argument("--json", action="store_true", help="for another program")
        parser.add_argument(
            "--seconds", type=_seconds, default=1.0, help="to improve the shared plan"
        )
        parser.add_argument(
            "--schedules", type=_count, help="a number of tries instead of time"
        )
        parser.add_argument("--samples", type=_count, help="draws behind the odds")
        parser.add_argument("--seed", type=_seed, help="same seed, same numbers")

    def handle(self, *args: Any, **options: Any) -> None:
        effort = Effort(
            options["seconds"],
            options["schedules"],
            options["samples"],
            options["seed"],
        )
        try:
            text = Path(options["file"]).read_bytes() if options["file"] else None
            found = work_out(text, effort)
        except OSError as error:
            self._give_up([f"{options['file']}: {error.strerror}."])
        except PlanError as error:
            self._give_up([str(fault) for fault in error.faults])
        self.stdout.write(found.as_json() if options["json"] else found.as_text())

    def _give_up(self, lines: list[str]) -> None:
        for line in lines:
            self.stderr.write(" ".join(line.split()))
        sys.exit(2)
