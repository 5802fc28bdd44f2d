"""Work of compiled loops on several threads; they hold no lock while they run."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from functools import lru_cache
from typing import TypeVar

Result = TypeVar("Result")

THREADS = min(os.cpu_count() or 1, 4)


@lru_cache(1)
def _pool() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(THREADS)


@lru_cache(1)
def _aside() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(1)


# A process made by fork has none of its parent's threads.
for pool in (_pool, _aside):
    os.register_at_fork(after_in_child=pool.cache_clear)


def beside(call: Callable[[], Result]) -> Future[Result]:
    """Begin a call on a thread of its own, one at a time; ask for its result later.

    The call may use `side_by_side`, but not wait for another begun here.
    """
    return _aside().submit(call)


def side_by_side(calls: Sequence[Callable[[], Result]]) -> list[Result]:
    """Return what some calls give, in their order; the first runs on this thread.

    No call may itself wait for others given here.
    """
    others = [_pool().submit(call) for call in calls[1:]]
    return [*(call() for call in calls[:1]), *(one.result() for one in others)]
