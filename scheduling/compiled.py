"""Compiles inner loops where numba is there; without it the same code just runs."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar, cast

if TYPE_CHECKING:
    Function = TypeVar("Function", bound=Callable[..., object])

PLAIN = bool(os.environ.get("WORKSHOP_NO_NUMBA"))
try:
    import numba
except ImportError:  # pragma: no cover - numba is in requirements.txt
    PLAIN = True


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
