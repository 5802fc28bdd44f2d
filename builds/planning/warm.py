"""Load and compile what the first question would otherwise wait for."""

from __future__ import annotations

import gc
import logging
import threading
import time

import scheduling
from builds.demo.plan import demo_plan
from scheduling.memory import keep_memory

log = logging.getLogger(__name__)

FEW = 50  # samples: enough to go once through all that is compiled
SELDOM = 20_000  # new objects before those that hold each other are looked for (700)


def warm() -> float:
    """Answer the sample workshop once, which uses every part of the engine.

    Nothing is read from the database or kept. Gives the seconds it took.
    """
    began = time.monotonic()
    plan = scheduling.read_plan(demo_plan())
    scheduling.answer(plan, schedules=1, samples=FEW).as_dict()
    return time.monotonic() - began


def warm_soon(after: float = 0.0) -> threading.Thread:
    """Do it beside whatever else the process does, some seconds from now."""
    thread = threading.Thread(target=_warm, args=(after,), name="warm", daemon=True)
    thread.start()
    return thread


def _warm(after: float) -> None:
    time.sleep(after)
    try:
        log.info("Warm after %.1f s.", warm())
    except Exception:
        log.exception(
            "The engine could not be warmed; the first question will be slow."
        )
    keep_what_is_loaded()


def keep_what_is_loaded() -> None:
    """Let what is loaded by now stay, and free memory with it.

    What is loaded is not looked through again for what could go: that would hold up
    whoever asks just then by a fifth of a second. And a page or a plan is many new
    objects and few rings of them: looked for every 700 objects, as Python does, they
    cost up to a tenth of the time.
    """
    gc.freeze()
    gc.set_threshold(SELDOM)
    keep_memory()
