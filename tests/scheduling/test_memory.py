"""Free memory stays with the process that is told to keep it."""

import resource
import sys

import numpy as np
import pytest

from scheduling.memory import keep_memory

SIZE = 8 << 20  # bytes, more than the C library keeps by itself


def pages_of_one_more() -> int:
    """Return how many pages had to be fetched to fill one array."""
    before = resource.getrusage(resource.RUSAGE_THREAD).ru_minflt
    np.empty(SIZE // 8).fill(1.0)
    return resource.getrusage(resource.RUSAGE_THREAD).ru_minflt - before


@pytest.mark.skipif(sys.platform != "linux", reason="glibc alone can be told")
def test_an_array_takes_the_place_of_the_last_without_new_pages() -> None:
    if not keep_memory():
        pytest.skip("this C library cannot be told")
    pages_of_one_more()
    assert max(pages_of_one_more() for _ in range(5)) <= 1
