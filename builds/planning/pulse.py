"""A run's sign of life: how far it is, and whether it is still wanted."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from datetime import timedelta

from django.utils import timezone

from builds.models.run import Run

Watch = Callable[[float], bool]
Tell = Callable[[float], None]

EVERY = 0.5  # seconds between two writes
LOST = timedelta(seconds=60)  # without a sign of life


class Pulse:
    """What the engine calls now and then with the share done, from 0 to 1.

    The answer False ends the run with the best so far. `begin` and `end` are the
    part of the whole that this call is about; `tell` hears what is written. A `fresh`
    row has just given its sign of life, so the first writing can wait.
    """

    def __init__(
        self,
        row: Run,
        wanted: Callable[[], bool] = lambda: True,
        *,
        begin: float = 0.0,
        end: float = 1.0,
        tell: Tell | None = None,
        fresh: bool = False,
    ) -> None:
        self._row, self._ask = row, wanted
        self._begin, self._end = begin, end
        self._tell = tell
        self._last = time.monotonic() if fresh else 0.0
        self._thread = threading.get_ident()
        self.wanted = True

    def __call__(self, share: float) -> bool:
        """Write the share and give whether to go on."""
        now = time.monotonic()
        # A solver may call from threads of its own, which have no connection.
        here = threading.get_ident() == self._thread
        if here and now - self._last >= EVERY:
            self._last = now
            self._write(share)
            self.wanted = self.wanted and self._ask()
        return self.wanted

    def _write(self, share: float) -> None:
        done = self._begin + (self._end - self._begin) * min(1.0, max(0.0, share))
        if self._tell:
            self._tell(done)
        self._row.share, self._row.seen = done, timezone.now()
        type(self._row)._default_manager.filter(pk=self._row.pk).update(
            share=done, seen=self._row.seen
        )
