"""Who has the trade of a job, at the level it asks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from builds.models import Job, Person, PersonTrade

ALONE = 2  # the trade level of someone who works without company

SIGNS_OFF = 3

Trades = Mapping[str, int]  # levels by trade; without a level it is to work alone


class Hand(NamedTuple):
    """Somebody who has a trade."""

    person: int
    name: str
    level: int | None
    left_out: bool

    def reaches(self, job: Job) -> bool:
        """Say whether their level is enough for a job of the trade."""
        return (self.level or ALONE) >= (job.trade_level or ALONE)


def trades_of(person: Person) -> Trades:
    """Give what somebody may do, and how far."""
    return {one.trade: one.level or ALONE for one in person.trades.all()}


def fits(trades: Trades, job: Job) -> bool:
    """Say whether these trades are enough to begin a job."""
    return not job.trade or reaches(trades, job.trade, job.trade_level)


def reaches(trades: Trades, trade: str, level: int | None) -> bool:
    """Say whether this one is among them, and far enough."""
    return trades.get(trade, 0) >= (level or ALONE)


def hands_of(trade: str | None) -> tuple[Hand, ...]:
    """Give everybody who has a trade, in the workshop's order."""
    rows = PersonTrade.objects.filter(trade=trade).select_related("person")
    return tuple(
        Hand(one.person_id, str(one.person), one.level, one.person.left_out)
        for one in rows.order_by("person__position", "pk")
    )


def may_begin(person: Person, job: Job, hands: Iterable[Hand]) -> bool:
    """Say whether somebody may begin a job; `hands` have its trade."""
    return not job.trade or any(
        one.person == person.pk and one.reaches(job) for one in hands
    )


def who_may(job: Job, hands: Iterable[Hand]) -> tuple[str, ...]:
    """Give the names of those whose trade is enough to begin a job."""
    return tuple(one.name for one in hands if not one.left_out and one.reaches(job))


def who_signs(hands: Iterable[Hand]) -> tuple[str, ...]:
    """Give the names of those who sign off in their trade."""
    found = (one for one in hands if one.level == SIGNS_OFF)
    return tuple(one.name for one in found if not one.left_out)
