"""Which copies stay: the newest of 7 days, 4 weeks and 12 months."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path

DAYS, WEEKS, MONTHS = 7, 4, 12
STAMP = "%Y%m%dT%H%M%S"
NAME = re.compile(r"workshop-(\d{8}T\d{6})Z\.copy")


def name_of(made: datetime) -> str:
    """Give the name of a copy made then."""
    return f"workshop-{made.astimezone(UTC):{STAMP}}Z.copy"


def copies_in(folder: Path) -> dict[datetime, Path]:
    """Give the whole copies of a folder by when they were made."""
    found = {}
    for path in folder.iterdir():
        named = NAME.fullmatch(path.name)
        if named:
            found[datetime.strptime(named[1], STAMP).replace(tzinfo=UTC)] = path
    return found


def to_keep(made: Iterable[datetime]) -> set[datetime]:
    """Give those that stay; the newest always does."""
    newest_first = sorted(made, reverse=True)
    return (
        _newest(newest_first, lambda at: at.date(), DAYS)
        | _newest(newest_first, lambda at: at.isocalendar()[:2], WEEKS)
        | _newest(newest_first, lambda at: (at.year, at.month), MONTHS)
    )


def _newest(
    newest_first: list[datetime], span: Callable[[datetime], object], most: int
) -> set[datetime]:
    """Give the newest of each of the last spans that have one."""
    first: dict[object, datetime] = {}
    for at in newest_first:
        if len(first) < most or span(at) in first:
            first.setdefault(span(at), at)
    return set(first.values())


def tidy(folder: Path) -> list[Path]:
    """Remove the copies that do not stay; give which."""
    copies = copies_in(folder)
    stay = to_keep(copies)
    gone = [path for at, path in sorted(copies.items()) if at not in stay]
    for path in gone:
        path.unlink()
    return gone
