"""Memory that one answer gives back is kept for the next.

An answer needs tens of megabytes for a fifth of a second. The C library hands pieces
that large back to the system at once, and to get them again, page by page, takes up to
a sixth of the simulation's time.
"""

from __future__ import annotations

import ctypes

TRIM_THRESHOLD, MMAP_THRESHOLD = -1, -3  # malloc.h of glibc; mallopt(3)
PIECE = 32 << 20  # bytes; glibc allows no more
KEPT = 256 << 20


def keep_memory() -> bool:
    """Have the C library keep free memory for this process; return whether it does.

    Pieces of up to 32 MB, 256 MB in all. Without glibc nothing changes.
    """
    mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    if mallopt is None:
        return False
    return bool(mallopt(MMAP_THRESHOLD, PIECE)) and bool(mallopt(TRIM_THRESHOLD, KEPT))
