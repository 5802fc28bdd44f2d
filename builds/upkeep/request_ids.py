"""The code of the request that is being answered, for logs, tasks and error pages."""

from __future__ import annotations

from contextvars import ContextVar
from secrets import token_hex

_current: ContextVar[str] = ContextVar("request_id", default="")


def current() -> str:
    """Give the code of what is being done now; empty outside of any."""
    return _current.get()


def begin(code: str = "") -> str:
    """Begin something with the code it came with, or a new one."""
    code = code or token_hex(6)
    _current.set(code)
    return code


def end() -> None:
    """Forget the code."""
    _current.set("")
