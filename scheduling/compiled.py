"""Compiles inner loops where numba is there; without it the same code just runs."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

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


def apart(function: Function) -> Function:
    """Return a `bare` function none of whose arrays share memory.

    Several samples are then worked out by one instruction. Numba has this switch but
    hands it to no decorator; where it cannot be reached, only speed is lost.
    """
    return function if PLAIN else _bare(function, **_noalias())


def bare(function: Function) -> Function:
    """Return a compiled function that makes no arrays and so counts no uses of any."""
    return function if PLAIN else _bare(function)


def _bare(function: Function, **more: object) -> Function:
    make: Any = numba.njit
    options = {"cache": True, "nogil": True, "error_model": "numpy", "_nrt": False}
    return cast("Function", make(**options, **more)(function))


def _noalias() -> dict[str, bool]:
    options: Any = numba.core.cpu.CPUTargetOptions
    flags = numba.core.compiler.Flags
    if not hasattr(options, "Mapping") or not hasattr(flags, "noalias"):
        return {}
    options.noalias = options.Mapping("noalias")
    return {"noalias": True}


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
