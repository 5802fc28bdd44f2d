"""Who and what is taken when: people, units of places, and a vendor's slots."""

from __future__ import annotations

from bisect import bisect_right, insort

from scheduling.plan import PlaceUse


class Bookings:
    """Intervals already given away; nothing is ever given twice.

    Moments are quarters; an interval holds its start and not its finish.
    """

    def __init__(self, capacity: dict[str, int]) -> None:
        self._capacity = capacity
        self._people: dict[str, list[tuple[float, float]]] = {}
        self._places: dict[str, list[tuple[float, float, int]]] = {}
        self._slots: dict[str, set[int]] = {}

    def person_free_after(
        self, person: str, start: float, finish: float
    ) -> float | None:
        """Return when to try again if the person is taken, else None."""
        taken = self._people.get(person)
        if not taken:
            return None
        at = bisect_right(taken, (start, float("inf")))
        if at and taken[at - 1][1] > start:
            return taken[at - 1][1]
        if at < len(taken) and taken[at][0] < finish:
            return taken[at][1]
        return None

    def place_free_after(
        self, use: PlaceUse, start: float, finish: float
    ) -> float | None:
        """Return when to try again if the place is too full, else None."""
        over = [
            one
            for one in self._places.get(use.place, ())
            if one[0] < finish and one[1] > start
        ]
        room = self._capacity[use.place] - use.uses
        for moment in [start, *(one[0] for one in over if one[0] > start)]:
            here = [one for one in over if one[0] <= moment < one[1]]
            if sum(one[2] for one in here) > room:
                return min(one[1] for one in here)
        return None

    def slot_taken(self, vendor: str, day: int) -> bool:
        """Return whether a vendor's slot on a day has gone."""
        return day in self._slots.get(vendor, ())

    def take(
        self,
        team: tuple[str, ...],
        places: tuple[PlaceUse, ...],
        start: float,
        finish: float,
    ) -> None:
        """Give people and places away for start..finish."""
        if finish <= start:
            return
        for person in team:
            insort(self._people.setdefault(person, []), (start, finish))
        for use in places:
            insort(self._places.setdefault(use.place, []), (start, finish, use.uses))

    def take_slot(self, vendor: str, day: int) -> None:
        """Give a vendor's slot away."""
        self._slots.setdefault(vendor, set()).add(day)
