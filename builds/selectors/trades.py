"""Who has the trade of a job, at the level it asks."""

from __future__ import annotations

from collections.abc import Mapping

from django.db.models import Q

from builds.models import Job, Person, PersonTrade

ALONE = 2  # the trade level of someone who works without company

Trades = Mapping[str, int]  # levels by trade; without a level it is to work alone


def trades_of(person: Person) -> Trades:
    """Give what somebody may do, and how far."""
    return {one.trade: one.level or ALONE for one in person.trades.all()}


def fits(trades: Trades, job: Job) -> bool:
    """Say whether these trades are enough to begin a job."""
    return not job.trade or reaches(trades, job.trade, job.trade_level)


def reaches(trades: Trades, trade: str, level: int | None) -> bool:
    """Say whether this one is among them, and far enough."""
    return trades.get(trade, 0) >= (level or ALONE)


def who_may(job: Job) -> tuple[str, ...]:
    """Give the names of those whose trade is enough to begin a job."""
    wanted = job.trade_level or ALONE
    enough = Q(level__gte=wanted) | (Q(level=None) if wanted <= ALONE else Q(pk__in=()))
    found = PersonTrade.objects.filter(
        enough, trade=job.trade, person__left_out=False
    ).select_related("person")
    return tuple(str(one.person) for one in found.order_by("person__position"))
