"""Which row holds the headings, what the columns mean, what the rows stand for."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from sheets.columns import SORTS, Sort
from sheets.table import Table

LOOKED_AT = 30  # rows in which the headings are looked for
PLAIN = re.compile("[^a-z0-9]+")


def guess_sort(table: Table) -> str:
    """Give `jobs`, `people` or `vendors`, by the sheet's name or else its headings."""
    named = _plain(table.name)
    for name, sort in SORTS.items():
        if _plain(sort.heading) in named.split():
            return name
    return max(SORTS, key=lambda name: _score(table, SORTS[name]))


def guess_heading_row(table: Table, sort: Sort) -> int:
    """Give the number of the row with the most headings in it; the first of equals."""
    rows = table.rows[:LOOKED_AT]
    best = max(rows, key=lambda row: len(guess_columns(row, sort)), default=())
    return rows.index(best) + 1 if best else 1


def guess_columns(headings: Sequence[str], sort: Sort) -> dict[int, str]:
    """Give what each column means, by its place; no meaning is given twice.

    A heading as it is written here comes before other words for it, and those before
    headings that only begin with one.
    """
    found: dict[int, str] = {}
    for known in (_exact(sort), _others(sort)):
        for place, heading in enumerate(headings):
            name = known.get(_plain(heading))
            if name and place not in found and name not in found.values():
                found[place] = name
    for place, heading in enumerate(headings):
        name = _begins(_plain(heading), _exact(sort) | _others(sort))
        if name and place not in found and name not in found.values():
            found[place] = name
    return found


def _score(table: Table, sort: Sort) -> int:
    row = table.rows[guess_heading_row(table, sort) - 1]
    return len(guess_columns(row, sort))


@cache
def _exact(sort: Sort) -> dict[str, str]:
    return {_plain(one.heading): one.name for one in sort.columns}


@cache
def _others(sort: Sort) -> dict[str, str]:
    return {_plain(word): one.name for one in sort.columns for word in one.others}


def _begins(heading: str, known: Mapping[str, str]) -> str:
    fitting = [words for words in known if heading.startswith(f"{words} ")]
    return known[max(fitting, key=len)] if fitting else ""


def _plain(heading: str) -> str:
    return PLAIN.sub(" ", heading.casefold()).strip()
