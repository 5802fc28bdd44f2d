"""Two answers side by side: the odds of now, and those of a plan that is not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from builds.charts import wording
from builds.models import Build, Forecast
from builds.selectors.answers import Facts, entries, moment, newest


@dataclass(frozen=True, slots=True)
class Odds:
    """The chance of one level of a car at a show, now and then."""

    car: str
    level: str
    wanted: bool
    now: float | None
    then: float | None

    @property
    def change(self) -> str:
        """Say by how much it moves, in whole hundredths."""
        if self.now is None or self.then is None:
            return "not known"
        points = wording.hundredths(self.then) - wording.hundredths(self.now)
        if not points:
            return "no change"
        return f"{abs(points)} {'more' if points > 0 else 'fewer'} in 100"

    @property
    def falls(self) -> bool:
        """Say whether it gets worse."""
        return "fewer" in self.change


@dataclass(frozen=True, slots=True)
class AtShow:
    """The odds of every car at one show."""

    name: str
    move_in: datetime | None
    odds: tuple[Odds, ...]


@dataclass(frozen=True, slots=True)
class Date:
    """The day by which a car is ready 80 times in 100, now and then."""

    car: str
    level: str
    now: datetime | None
    then: datetime | None

    @property
    def change(self) -> str:
        """Say by how many days on the calendar it moves."""
        if self.now is None or self.then is None:
            return "not known"
        days = (self.then.date() - self.now.date()).days
        if not days:
            return "no change"
        words = wording.counted(abs(days), "day,days")
        return f"{words} {'later' if days > 0 else 'sooner'}"

    @property
    def slips(self) -> bool:
        """Say whether it gets worse."""
        return "later" in self.change


@dataclass(frozen=True, slots=True)
class WhatIf:
    """Everything that is compared."""

    shows: tuple[AtShow, ...]
    dates: tuple[Date, ...]


def fresh_answer() -> Facts | None:
    """Give the newest answer if nothing has changed since it was asked for."""
    forecast = newest()
    last = Forecast.objects.defer("summary").order_by("-asked_at", "-pk").first()
    same = forecast is not None and last is not None and forecast.pk == last.pk
    return forecast.answer if same and forecast else None


def compare(now: Facts, then: Facts) -> WhatIf:
    """Lay two answers side by side, cars in the lead's order."""
    cars = list(Build.objects.filter(left_out=False).order_by("rank", "position"))
    names = {car.key: str(car) for car in cars}
    shows: dict[str, list[Odds]] = {}
    after = {(show, car): entry for show, car, entry in entries(then)}
    before = sorted(
        (one for one in entries(now) if one[1] in names),
        key=lambda one: list(names).index(one[1]),
    )
    for show, car, entry in before:
        other = after.get((show, car), {"levels": {}})
        shows.setdefault(show, []).extend(_odds(names[car], entry, other))
    return WhatIf(
        shows=tuple(
            AtShow(
                name=now["shows"][show]["name"],
                move_in=moment(now["shows"][show]["move_in"]),
                odds=tuple(odds),
            )
            for show, odds in shows.items()
        ),
        dates=tuple(
            date for car in cars if (date := _date(str(car), car.key, now, then))
        ),
    )


def _odds(car: str, entry: Facts, other: Facts) -> list[Odds]:
    return [
        Odds(
            car=car,
            level=level,
            wanted=level == entry["level"],
            now=points.get("probability"),
            then=other["levels"].get(level, {}).get("probability"),
        )
        for level, points in entry["levels"].items()
    ]


def _date(car: str, key: str, now: Facts, then: Facts) -> Date | None:
    facts = now.get("builds", {}).get(key, {})
    level = facts.get("wanted_level")
    if not level or level not in facts.get("levels", {}):
        return None
    late = then.get("builds", {}).get(key, {}).get("levels", {}).get(level, {})
    return Date(
        car=car,
        level=level,
        now=moment(facts["levels"][level].get("p80")),
        then=moment(late.get("p80")),
    )
