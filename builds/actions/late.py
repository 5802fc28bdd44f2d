"""When a button was pressed, for an act that reached us later."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime

_pressed: ContextVar[datetime | None] = ContextVar("pressed_at", default=None)


def pressed_at() -> datetime | None:
    """Give when what is being done was pressed; None if it was just now."""
    return _pressed.get()


@contextmanager
def was_pressed(at: datetime | None) -> Iterator[None]:
    """Note with everything done inside when its button was pressed."""
    token = _pressed.set(at)
    try:
        yield
    finally:
        _pressed.reset(token)
