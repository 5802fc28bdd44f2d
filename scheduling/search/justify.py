"""Breeds plans for plain problems, turned round from one generation to the next.

A child of two plans made forward is made backward, and a child of two plans made
backward is made forward: each goes back over its parents' plans (justification: Valls
et al. 2005, EJOR 165:375-386) for the price of one plan (two families: Debels &
Vanhoucke 2007, Operations Research 55:457-469; both from memory). The families shrink
as the end comes near, so that they mix long and still come to a close.
"""

from __future__ import annotations

from scheduling.compiled import compiled
from scheduling.search.children import bear, fade, turn
from scheduling.search.first_plans import first_plan
from scheduling.search.keeping import dwindle, keep
from scheduling.search.kin import AGE, BACKWARD, BEST, FORWARD, ROW, SIZE, Kin
from scheduling.search.plain import Plain


@compiled
def breed(p: Plain, k: Kin, schedules: int, size: int, bound: int) -> int:
    """Make so many plans, fewer if the bound is met; return how many.

    Plans are counted by the starts worked out. The last may go on into one more.
    Families of more than `size` plans lose their longest at the end of a generation.
    """
    before = k.worked_out[0]
    while k.worked_out[0] - before < schedules * p.nodes and k.tally[BEST] > bound:
        age, row = k.tally[AGE], k.tally[ROW]
        if age == 0:
            keep(k, FORWARD, row, first_plan(p, k))
        elif age == 1:
            keep(k, BACKWARD, row, turn(p, k, FORWARD, row))
        else:
            bear(p, k, 1 - age % 2, row)
        k.tally[ROW] += 1
        if k.tally[ROW] == k.tally[SIZE]:
            k.tally[AGE] += 1
            k.tally[ROW] = 0
            fade(k)
            if age:
                dwindle(k, size)
    return int(-(-(k.worked_out[0] - before) // p.nodes))
