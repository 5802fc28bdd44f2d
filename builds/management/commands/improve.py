"""Look long for a better plan, here and now."""

from __future__ import annotations

import signal
import threading
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection

from builds.actions.errors import Refused
from builds.actions.search import LONGEST, ask_for_search, stop_search
from builds.models import Search
from builds.planning.replan import replan
from builds.planning.search import one_turn
from builds.selectors.better_plan import ended_words

TAKEN = "A worker has taken it over; the page “Look for a better plan” shows it."


class Command(BaseCommand):
    help = "Look for a better plan for some minutes; Ctrl-C keeps the best so far."
    _said = ""

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--minutes", type=int, default=5, help=f"from 1 to {LONGEST}"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            search = ask_for_search(by=None, minutes=options["minutes"], here=True)
        except Refused as error:
            raise CommandError(error.words) from error
        before = signal.signal(signal.SIGINT, self._stop)
        try:
            self.stdout.write(self._look(search))
        finally:
            signal.signal(signal.SIGINT, before)

    def _look(self, search: Search) -> str:
        while search.open:
            went = one_turn(search.pk, search.turn, tell=self._tell)
            if went is None:
                search.refresh_from_db()
                return TAKEN if search.open else ended_words(search)
            if went.open and went.spent == search.spent:
                replan()  # a question waits, and there may be no worker to answer it
            search = went
        return ended_words(search)

    def _tell(self, share: float) -> None:
        words = f"{int(share * 100):3} of 100"
        if words != self._said:
            self.stdout.write(words)
        self._said = words

    def _stop(self, *_: object) -> None:
        """Note the wish from a thread: the connection here may be in use."""
        self.stdout.write("Stopping; the best so far is kept.")
        threading.Thread(target=_note_stop).start()


def _note_stop() -> None:
    stop_search(by=None)
    connection.close()
