"""Compiles inner loops where numba is there; without it the same code just runs."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, cast

if TYPE_CHECKING:
    Function = TypeVar("Function", bound=Callable[..., object])

PLAIN = bool(os.environ.get("WORKSHOP_NO_NUMBA"))
try:
    import numba
except ImportError:  # pragma: no cover - numba is in requirements.txt
    PLAIN = True


def _state() -> str:
    """Return a fingerprint of all compiled code and the records it reads.

    Kept machine code knows only of changes in its own file, not in what it calls.
    """
    found = hashlib.sha256()
    for path in sorted(Path(__file__).parent.rglob("*.py")):
        text = path.read_bytes()
        if b"scheduling.compiled" in text or b"NamedTuple" in text:
            found.update(text)
    return found.hexdigest()[:16]


if not PLAIN:
    vars(numba.config)["CACHE_DIR"] = str(
        Path(__file__).parent / "__pycache__" / _state()
    )


def inlined(function: Function) -> Function:
    """Return a small function whose code is copied to where it is called."""
    if PLAIN:
        return function
    make = numba.njit(cache=True, nogil=True, error_model="numpy", inline="always")
    return cast("Function", make(function))


def compiled(function: Function) -> Function:
    """Return the function compiled to machine code, kept on disk for the next start.

    Notes
    -----
    It holds no lock while it runs, so threads run side by side. The environment
    variable WORKSHOP_NO_NUMBA=1 leaves everything uncompiled.
    """
    if PLAIN:
        return function
    make = numba.njit(cache=True, nogil=True, error_model="numpy")
    return cast("Function", make(function))
