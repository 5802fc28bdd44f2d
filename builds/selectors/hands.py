"""The hands page: who is asked for what, week by week, and who has hours free."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.urls import reverse

from builds.charts import wording
from builds.charts.tally import stroke_size
from builds.models import Job, Person, Place
from builds.selectors.hands_row import Row, row_of
from builds.selectors.hands_words import Bottleneck, bottleneck
from builds.selectors.weeks import Hours, Load, WeekHours, monday_of, weeks_of

MORE, MOST_WEEKS = 12, 52


@dataclass(frozen=True, slots=True)
class Free:
    """Somebody with hours free this week or next."""

    name: str
    url: str
    this_week: float
    next_week: float


@dataclass(frozen=True, slots=True)
class HandsPage:
    """Everything on the page."""

    first: date
    last: date
    weeks: int
    bottleneck: Bottleneck | None
    free: tuple[Free, ...]
    people: tuple[Row, ...]
    places: tuple[Row, ...]
    roomy_places: tuple[Row, ...]
    unused_places: tuple[str, ...]
    stroke: float

    @property
    def opened(self) -> Row | None:
        """Give the row that shows its figures."""
        rows = (*self.people, *self.places, *self.roomy_places)
        return next((row for row in rows if row.opened), None)

    @property
    def further(self) -> int:
        """Give how many weeks to show next; nought where there are no more."""
        return min(MOST_WEEKS, self.weeks + MORE) if self.weeks < MOST_WEEKS else 0


def span_of(now: date, weeks: int) -> tuple[date, date]:
    """Give the first Monday and the last day of so many weeks."""
    first = monday_of(now)
    return first, first + timedelta(days=7 * weeks - 1)


def hands_page(load: Load, *, now: date, weeks: int, opened: str) -> HandsPage:
    """Give the page of the next `weeks` weeks; the row `opened` with its figures."""
    first, last = span_of(now, weeks)
    jobs = {job.key: job for job in Job.objects.select_related("build")}
    people = list(
        Person.objects.filter(key__in=load.people).prefetch_related("trades", "away")
    )
    places = list(Place.objects.filter(key__in=load.places))
    by_person = _gathered(load.people, [one.key for one in people], first, weeks)
    by_place = _gathered(load.places, [one.key for one in places], first, weeks)
    used = [one for one in places if _asked_for(by_place[one.key])]
    every = [
        week for row in (by_person, by_place) for own in row.values() for week in own
    ]
    stroke = stroke_size([max(week.has, week.over) for week in every])
    rooms = [
        row_of(
            str(one),
            by_place[one.key],
            jobs,
            what=_room(one),
            stroke=stroke,
            slug=f"place-{one.pk}",
            opened=opened == f"place-{one.pk}",
        )
        for one in used
    ]
    return HandsPage(
        first=first,
        last=last,
        weeks=weeks,
        bottleneck=bottleneck([(str(one), by_person[one.key]) for one in people], jobs),
        free=_free(people, by_person),
        people=tuple(
            row_of(
                str(one),
                by_person[one.key],
                jobs,
                what=", ".join(trade.trade for trade in one.trades.all()),
                stroke=stroke,
                slug=f"person-{one.pk}",
                opened=opened == f"person-{one.pk}",
                key=one.key,
                away=tuple(one.away.all()),
            )
            for one in people
        ),
        places=tuple(one for one in rooms if one.over_weeks),
        roomy_places=tuple(one for one in rooms if not one.over_weeks),
        unused_places=tuple(str(one) for one in places if one not in used),
        stroke=stroke,
    )


def _gathered(
    load: Mapping[str, Hours], keys: Iterable[str], first: date, weeks: int
) -> dict[str, tuple[WeekHours, ...]]:
    return {key: weeks_of(load[key], first, weeks) for key in keys}


def _asked_for(weeks: Iterable[WeekHours]) -> bool:
    return any(week.asked or week.given for week in weeks)


def _room(place: Place) -> str:
    return wording.counted(place.capacity, "car or job at once,cars or jobs at once")


def _free(
    people: Sequence[Person], weeks: Mapping[str, tuple[WeekHours, ...]]
) -> tuple[Free, ...]:
    """Give who has an hour free this week or next, most first."""
    found = [
        Free(
            str(one),
            reverse("hand", args=[one.key]),
            weeks[one.key][0].free,
            weeks[one.key][1].free if len(weeks[one.key]) > 1 else 0.0,
        )
        for one in people
    ]
    found = [one for one in found if max(one.this_week, one.next_week) >= 1]
    return tuple(sorted(found, key=lambda one: -(one.this_week + one.next_week)))
