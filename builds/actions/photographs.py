"""Photographs lie outside the database: what is not done leaves none behind."""

from __future__ import annotations

from collections.abc import Callable
from contextvars import ContextVar
from functools import wraps
from typing import Any, TypeVar

from django.core.files.base import ContentFile

from builds.models import PieceMove

Act = TypeVar("Act", bound=Callable[..., Any])

_written: ContextVar[list[PieceMove] | None] = ContextVar("written", default=None)


def put_down(line: PieceMove, photo: ContentFile[bytes]) -> str:
    """Write a photograph for a line of a trail; give the name it got."""
    line.photo.save("photo.jpg", photo, save=False)
    written = _written.get()
    if written is not None:
        written.append(line)
    return str(line.photo.name)


def no_photograph_without_the_act(act: Act) -> Act:
    """Take away what an act has written when it ends in a refusal or a fault.

    Stands outside of the act's transaction, which takes back the rows.
    """

    @wraps(act)
    def acted(*args: Any, **kwargs: Any) -> Any:
        written: list[PieceMove] = []
        token = _written.set(written)
        try:
            return act(*args, **kwargs)
        except BaseException:
            for line in written:
                line.photo.storage.delete(str(line.photo.name))
            raise
        finally:
            _written.reset(token)

    return acted  # type: ignore[return-value]
