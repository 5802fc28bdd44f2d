"""Who has the trade of a job, at the level it asks."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import or_

from django.db.models import Q

from builds.models import Job, Person, PersonTrade

ALONE = 2  # the trade level of someone who works without company

Trades = Mapping[str, int]  # levels by trade; without a level it is to work alone


def trades_of(person: Person) -> Trades:
    """Give what somebody may do, and how far."""
    return {one.trade: one.level or ALONE for one in person.trades.all()}


def fits(trades: Trades, job: Job) -> bool:
    """Say whether these trades are enough to begin a job."""
    return not job.trade or trades.get(job.trade, 0) >= (job.trade_level or ALONE)


def fitting(trades: Trades) -> Q:
    """Give the jobs that ask for one of these trades and for no more of it."""
    return reduce(or_, (_asks(*one) for one in trades.items()), Q(pk__in=()))


def who_may(job: Job) -> tuple[str, ...]:
    """Give the names of those whose trade is enough to begin a job."""
    wanted = job.trade_level or ALONE
    enough = Q(level__gte=wanted) | (Q(level=None) if wanted <= ALONE else Q(pk__in=()))
    found = PersonTrade.objects.filter(
        enough, trade=job.trade, person__left_out=False
    ).select_related("person")
    return tuple(str(one.person) for one in found.order_by("person__position"))


def _asks(trade: str, level: int) -> Q:
    enough = Q(trade_level__lte=level)
    if level >= ALONE:
        enough |= Q(trade_level=None)
    return Q(trade=trade) & enough
