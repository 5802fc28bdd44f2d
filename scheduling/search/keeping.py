"""Which plans of the two families are kept, and where."""

from __future__ import annotations

from scheduling.compiled import compiled
from scheduling.search.kin import AGE, BACKWARD, BEST, SIZE, Kin

MIXED = 2305843009213693951  # a Mersenne prime, for fingerprints


@compiled
def keep(k: Kin, family: int, row: int, span: int) -> bool:
    """Put the plan just made in its row, unless it is longer or known already."""
    if span < k.tally[BEST]:
        k.tally[BEST] = span
        k.record[:] = k.here
        if family == BACKWARD:
            k.record[:] = span - k.there
    if span > k.span[family, row]:
        return False
    mark = 1
    for n in range(len(k.here)):
        mark = (mark * 31 + k.here[n]) % MIXED
    for other in range(k.tally[SIZE]):
        known = k.span[family, other] == span and k.mark[family, other] == mark
        if known and k.tally[AGE] > 1:  # the first plans may be alike
            return False
    k.start[family, row], k.finish[family, row] = k.here, k.there
    k.span[family, row], k.mark[family, row] = span, mark
    k.has_turned[family, row] = 0
    return True


@compiled
def dwindle(k: Kin, size: int) -> None:
    """Drop the longest plans of both families until there are no more than `size`."""
    while k.tally[SIZE] > size:
        last = k.tally[SIZE] - 1
        for family in range(2):
            move(k, family, last, int(k.span[family, : last + 1].argmax()))
        k.tally[SIZE] = last


@compiled
def move(k: Kin, family: int, row: int, to: int) -> None:
    """Put the plan of one row in another."""
    k.start[family, to] = k.start[family, row]
    k.finish[family, to] = k.finish[family, row]
    k.span[family, to] = k.span[family, row]
    k.mark[family, to] = k.mark[family, row]
    k.turned_order[family, to] = k.turned_order[family, row]
    k.turned_start[family, to] = k.turned_start[family, row]
    k.has_turned[family, to] = k.has_turned[family, row]
