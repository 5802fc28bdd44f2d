"""Days lived one by one: every morning a question, then work until closing time."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from tests.scheduling.calibration.hours import TINY, Diary, Opening
from tests.scheduling.calibration.ledger import Ledger, Progress
from tests.scheduling.calibration.truth import Truth
from tests.scheduling.calibration.vendors import Outside

Row = dict[str, Any]
Ask = Callable[[Row, int], Row]

LONGEST_DAYS = 700


class Life:
    """One invented workshop. `ask(file, morning)` returns the engine's answer.

    People take the clear job that comes first in their order of the morning's plan
    (the bench list, then what the plan has for them later), stay with it until it is
    done, break off at closing time and go on when they are back.
    """

    def __init__(self, document: Row, truth: Truth, ask: Ask) -> None:
        self.document, self.truth, self._ask = document, truth, ask
        first = date.fromisoformat(document["now"][:10])
        calendars = document["calendars"]
        self.shop = Opening(first, calendars["shop"], [])
        self.people = {
            one["id"]: Opening(first, calendars[one["calendar"]], one.get("away", []))
            for one in document["people"]
        }
        self.vendors = {
            one["id"]: Opening(first, calendars[one["calendar"]], one["closed"])
            for one in document["vendors"]
        }
        self.diary = Diary(first)
        self.ledger = Ledger(document, self.diary)
        self._outside = Outside(self.ledger, truth, self.shop, self.vendors, first)
        self._paces = {one["id"]: one.get("pace", {}) for one in document["people"]}
        self._room = {one["id"]: one["capacity"] for one in document["places"]}
        self._order: list[str] = [row["id"] for row in document["jobs"]]
        self._who: dict[str, tuple[str, ...]] = {}
        self._mornings = 0
        # who was at work on what, and when: for the tests
        self.worked: list[tuple[str, tuple[str, ...], float, float]] = []

    def run(self) -> Ledger:
        """Live until every job is done."""
        now = self.diary.minutes(self.document["now"])
        while any(one.state != "done" for one in self.ledger.jobs.values()):
            if now > LONGEST_DAYS * 1440:
                raise RuntimeError("This workshop never finishes.")
            if self._is_morning(now):
                self._morning(now)
            while self._outside.settle(now, self._order):
                pass
            self._begin_work(now)
            later = self._next_moment(now)
            self._work(now, later)
            now = later
        return self.ledger

    def _is_morning(self, now: float) -> bool:
        opens = self.shop.open_until(now)
        day = now // 1440 * 1440
        first = opens is not None and self.shop.next_opening(day) >= now - TINY
        return first and (now > 0 or self._mornings == 0)

    def _morning(self, now: float) -> None:
        told = self._ask(self.ledger.as_file(now), self._mornings)
        self._mornings += 1
        jobs = [job for job in told["jobs"] if self.ledger.jobs[job].state == "open"]
        listed = {job for one in told["today"].values() for job in one}
        start = {job: told["jobs"][job]["planned_start"] for job in jobs}
        self._order = sorted(jobs, key=lambda job: (job not in listed, start[job], job))
        self._who = {job: tuple(told["jobs"][job]["who"]) for job in jobs}

    def _begin_work(self, now: float) -> None:
        here = {one for one, opening in self.people.items() if opening.open_until(now)}
        busy = {one for job in self._under_way() for one in job.team}
        free = here - busy
        for job in self._order:
            one = self.ledger.jobs[job]
            if not free or not one.hands or one.state != "open":
                continue
            team, ready = self._who[job], self.ledger.ready_at(job)
            if free.isdisjoint(team) or ready is None or ready > now:
                continue
            # whoever is free first waits for the other, and begins nothing else
            if free.issuperset(team) and not self._has_room(one):
                continue
            if free.issuperset(team):
                one.state, one.started, one.team = "under way", now, team
                one.left = 60.0 * sum(it.length for it in self.truth.rounds[job])
                one.left *= self._pace(one)
            free -= set(team)

    def _under_way(self) -> list[Progress]:
        jobs = self.ledger.jobs.values()
        return [one for one in jobs if one.hands and one.state == "under way"]

    def _pace(self, one: Progress) -> float:
        return max(self._paces[who].get(one.row["trade"], 1.0) for who in one.team)

    def _has_room(self, one: Progress) -> bool:
        used = [place for it in self._under_way() for place in it.row.get("places", ())]
        return all(
            used.count(place) < self._room[place] for place in one.row.get("places", ())
        )

    def _at_it(self, now: float) -> list[Progress]:
        return [
            one
            for one in self._under_way()
            if all(self.people[who].open_until(now) for who in one.team)
        ]

    def _next_moment(self, now: float) -> float:
        moments = [self.shop.next_opening(now)]
        for opening in self.people.values():
            moments.append(opening.open_until(now) or opening.next_opening(now))
        moments += [now + one.left for one in self._at_it(now)]
        for job, one in self.ledger.jobs.items():
            if one.ends is not None:
                moments.append(one.ends)
            if one.state == "open":
                moments.append(self.ledger.ready_at(job) or 0.0)
        return min(moment for moment in moments if moment > now)

    def _work(self, now: float, later: float) -> None:
        for one in self._at_it(now):
            one.left -= later - now
            self.worked.append((one.row["id"], one.team, now, later))
            if one.left <= TINY:
                one.state, one.finished = "done", later
