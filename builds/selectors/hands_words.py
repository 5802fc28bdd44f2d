"""The trade that is shortest of hands, said in one sentence."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from builds.charts.wording import whole_hours
from builds.models import Job
from builds.selectors.weeks import WeekHours

Jobs = Mapping[str, Job]


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """A trade, and the week in which somebody is asked for most of it beyond hours."""

    trade: str
    name: str
    monday: date
    asked: float
    of_trade: float
    has: float

    @property
    def words(self) -> str:
        """Say it in one sentence."""
        asked, mine = whole_hours(self.asked), whole_hours(self.of_trade)
        share = "" if asked == mine else f", {mine} of them {self.trade}"
        of = f" of {self.trade} work" if asked == mine else ""
        week = f"{self.monday.day} {self.monday:%B}"
        comma = "," if share else ""
        has = whole_hours(self.has)
        return (
            f"{self.name} is asked for {asked} hours{of} in the week of {week}"
            f"{share}{comma} and has {has or 'none'}."
        )


def bottleneck(
    people: Iterable[tuple[str, Sequence[WeekHours]]], jobs: Jobs
) -> Bottleneck | None:
    """Give the trade with most hours over, in its worst week; None if nobody is over.

    Hours over are shared among a week's trades as its asked hours are.
    """
    found = [
        Bottleneck(trade, name, week.monday, week.asked, hours, week.has)
        for name, own in people
        for week in own
        if week.over
        for trade, hours in by_trade(week, jobs).items()
    ]
    total: dict[str, float] = {}
    for one in found:
        total[one.trade] = total.get(one.trade, 0.0) + _over(one)
    if not total:
        return None
    worst = max(total, key=lambda trade: (total[trade], trade))
    return max((one for one in found if one.trade == worst), key=_over)


def by_trade(week: WeekHours, jobs: Jobs) -> dict[str, float]:
    """Give the hours asked in each trade; jobs without one count as other work."""
    found: dict[str, float] = {}
    for key, hours in week.asked_jobs:
        trade = (jobs[key].trade if key in jobs else None) or "other"
        found[trade] = found.get(trade, 0.0) + hours
    return found


def _over(one: Bottleneck) -> float:
    return (one.asked - one.has) * one.of_trade / one.asked
