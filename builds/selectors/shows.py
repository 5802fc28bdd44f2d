"""Dated events and the cars entered for them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from builds.models import Build, Show, ShowEntry, Workshop


@dataclass(frozen=True, slots=True)
class EntryLine:
    """A car entered and how ready it has to be."""

    id: int
    build: str
    car: str
    level: str


@dataclass(frozen=True, slots=True)
class ShowLine:
    """One show, for the list."""

    key: str
    name: str
    move_in: datetime
    days: int
    entries: tuple[EntryLine, ...]
    left_out: bool


@dataclass(frozen=True, slots=True)
class ShowPage:
    """One show with its entries, and what could be entered."""

    show: Show
    now: datetime
    entries: tuple[EntryLine, ...]
    builds: tuple[Build, ...]
    levels: tuple[str, ...]


def show_rows() -> tuple[ShowLine, ...]:
    """Give every show, the nearest first."""
    today = Workshop.current().clock().date()
    rows = Show.objects.prefetch_related("entries__build")
    top = _top(Workshop.current())
    return tuple(_line(row, today, top) for row in rows.order_by("move_in", "pk"))


def show_page(*, show: Show) -> ShowPage:
    """Give one show's facts and entries."""
    shop = Workshop.current()
    return ShowPage(
        show=show,
        now=shop.clock(),
        entries=_entries(show, _top(shop)),
        builds=tuple(Build.objects.filter(left_out=False)),
        levels=tuple(shop.levels),
    )


def _top(shop: Workshop) -> str:
    return str(shop.levels[-1]) if shop.levels else ""


def _line(show: Show, today: date, top: str) -> ShowLine:
    days = (show.move_in.date() - today).days
    entries = _entries(show, top)
    return ShowLine(show.key, str(show), show.move_in, days, entries, show.left_out)


def _entries(show: Show, top: str) -> tuple[EntryLine, ...]:
    rows: list[ShowEntry] = list(show.entries.all())
    return tuple(
        EntryLine(one.pk, one.build.key, str(one.build), one.level or top)
        for one in rows
    )
