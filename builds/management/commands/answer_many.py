"""Answer many plan files, by several processes or through the queue."""

from __future__ import annotations

import json
import multiprocessing
import time
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import django
from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from builds.models import FileState, PlanFile
from builds.planning.exchange import PlanError
from builds.planning.many import answer_file, hand_in
from builds.tasks.files import spread

LOOK = 0.5  # seconds between two looks at the queue's work


class Command(BaseCommand):
    help = "Answer every plan file of a folder; the same file is never answered twice."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("folder", type=Path, help="plan files, *.json")
        parser.add_argument("--out", type=Path, help="for the answers; else the folder")
        parser.add_argument(
            "--workers",
            type=int,
            help="processes here; else the queue, if there is one",
        )
        parser.add_argument(
            "--schedules", type=int, default=settings.FORECAST_SCHEDULES
        )
        parser.add_argument("--samples", type=int, default=settings.FORECAST_SAMPLES)

    def handle(self, *args: Any, **options: Any) -> None:
        folder, out = options["folder"], options["out"] or options["folder"]
        paths = sorted(folder.glob("*.json"))
        names = [one for one in paths if not one.name.endswith(".answer.json")]
        if not names:
            raise CommandError(f"{folder} holds no plan file (*.json).")
        asked = {"schedules": options["schedules"], "samples": options["samples"]}
        files = dict(self._handed_in(names, asked))
        workers = options["workers"]
        if workers is None and settings.REDIS_URL:
            self._by_queue(set(files.values()))
        else:
            self._here(set(files.values()), workers or 1)
        out.mkdir(parents=True, exist_ok=True)
        wrong = [one for one in names if one not in files]
        wrong += [path for path, pk in files.items() if not _written(path, pk, out)]
        if wrong:
            raise CommandError(f"Not answered: {', '.join(one.name for one in wrong)}.")

    def _handed_in(
        self, paths: Iterable[Path], asked: dict[str, Any]
    ) -> Iterator[tuple[Path, int]]:
        for path in paths:
            try:
                yield path, hand_in(path.read_bytes(), asked).pk
            except PlanError as error:
                for fault in error.faults:
                    line = f"{path.name}: {fault}"
                    self.stderr.write(" ".join(line.split()))

    def _by_queue(self, files: set[int]) -> None:
        """Hand over and wait; Ctrl-C leaves the rest to the workers."""
        spread(_open(files).values_list("pk", flat=True))
        while left := _open(files).count():
            self._tell(len(files) - left, len(files))
            time.sleep(LOOK)
        self._tell(len(files), len(files))

    def _here(self, files: set[int], workers: int) -> None:
        todo = list(_open(files).values_list("pk", flat=True))
        done = len(files) - len(todo)
        if workers == 1:
            answers: Iterator[None] = map(_answer, todo)
        else:
            fresh = multiprocessing.get_context("spawn")
            pool = ProcessPoolExecutor(workers, fresh, initializer=django.setup)
            answers = pool.map(_answer, todo)
        for number, _ in enumerate(answers, start=1):
            self._tell(done + number, len(files))

    def _tell(self, done: int, whole: int) -> None:
        self.stdout.write(f"{done} of {whole} answered")


def _open(files: set[int]) -> Any:
    return PlanFile.objects.filter(
        pk__in=files, state__in=(FileState.QUEUED, FileState.RUNNING)
    )


def _answer(pk: int) -> None:
    """Answer one; taken over from a command that was broken off."""
    answer_file(pk, takes_over=True)


def _written(path: Path, pk: int, out: Path) -> bool:
    row = PlanFile.objects.get(pk=pk)
    if row.state != FileState.DONE:
        return False
    where = out / f"{path.stem}.answer.json"
    where.write_text(json.dumps(row.answer, indent=1) + "\n", encoding="utf-8")
    return True
