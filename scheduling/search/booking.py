"""Who and what is taken when, for compiled code: as `bookings`, in arrays."""

from __future__ import annotations

import numpy as np

from scheduling.compiled import bare
from scheduling.search.arrays import Booked, Floats, Ints, Placed, Problem, Table

FREE = -1.0  # nobody has it then


def room_for(problem: Problem) -> tuple[Placed, Booked]:
    """Return the scratch space that making plans for a problem needs."""
    count = problem.nodes
    hands = _busiest(problem.member)
    uses = _busiest(problem.use.place[:-1])
    people, places = int(max(problem.member, default=0)) + 1, len(problem.capacity) + 1
    vendors, days = len(problem.slot_from), int(max(problem.slot_day, default=0))
    placed = Placed(np.zeros(count), np.zeros(count), *(_zeros(count) for _ in "123"))
    booked = Booked(
        np.zeros((people, min(hands, count) + 1)),
        np.zeros((people, min(hands, count) + 1)),
        _zeros(people),
        np.zeros((places, uses + 1)),
        np.zeros((places, uses + 1)),
        _zeros(places, uses + 1),
        _zeros(places),
        _zeros(vendors, days + 1),
        _zeros(count),
        _zeros(count),
    )
    return placed, booked


def _zeros(*shape: int) -> Ints:
    return np.zeros(shape, dtype=np.int64)


def _busiest(numbers: Ints) -> int:
    return int(np.bincount(numbers).max()) if len(numbers) else 0


@bare
def clear(b: Booked) -> None:
    """Give everything back."""
    b.person_count[:] = 0
    b.place_count[:] = 0
    b.slot_gone[:] = 0


@bare
def _after(rows: Floats, r: int, count: int, start: float) -> int:
    """Return how many of the first `count` entries of row `r` are <= start."""
    low, high = 0, count
    while low < high:
        middle = (low + high) // 2
        if rows[r, middle] <= start:
            low = middle + 1
        else:
            high = middle
    return low


@bare
def person_again(b: Booked, person: int, start: float, finish: float) -> float:
    """Return when to try again if the person is taken, else `FREE`."""
    count = b.person_count[person]
    at = _after(b.person_start, person, count, start)
    if at and b.person_finish[person, at - 1] > start:
        return float(b.person_finish[person, at - 1])
    if at < count and b.person_start[person, at] < finish:
        return float(b.person_finish[person, at])
    return FREE


@bare
def person_from(b: Booked, person: int, moment: float, need: float) -> float:
    """Return the first moment from which a person has `need` quarters of wall clock."""
    count = b.person_count[person]
    at = _after(b.person_start, person, count, moment)
    if at and b.person_finish[person, at - 1] > moment:
        moment = b.person_finish[person, at - 1]
    while at < count and b.person_start[person, at] < moment + need:
        moment = b.person_finish[person, at]
        at += 1
    return moment


@bare
def _load(b: Booked, place: int, moment: float) -> tuple[int, float]:
    """Return the units in use at a moment, and when the first of them ends."""
    units, ends = 0, np.inf
    for k in range(b.place_count[place]):
        if b.place_start[place, k] > moment:
            break
        if moment < b.place_finish[place, k]:
            units += b.place_units[place, k]
            ends = min(ends, b.place_finish[place, k])
    return units, ends


@bare
def place_again(b: Booked, place: int, room: int, start: float, finish: float) -> float:
    """Return when to try again if more than `room` units are taken, else `FREE`."""
    units, ends = _load(b, place, start)
    if units > room:
        return ends
    count = b.place_count[place]
    for k in range(_after(b.place_start, place, count, start), count):
        if b.place_start[place, k] >= finish:
            break
        if b.place_finish[place, k] > b.place_start[place, k]:
            units, ends = _load(b, place, b.place_start[place, k])
            if units > room:
                return ends
    return FREE


@bare
def _insert(rows: Floats, r: int, count: int, at: int, value: float) -> None:
    for k in range(count, at, -1):
        rows[r, k] = rows[r, k - 1]
    rows[r, at] = value


@bare
def take_person(b: Booked, person: int, start: float, finish: float) -> None:
    """Give a person's time away."""
    count = b.person_count[person]
    at = _after(b.person_start, person, count, start)
    _insert(b.person_start, person, count, at, start)
    _insert(b.person_finish, person, count, at, finish)
    b.person_count[person] += 1


@bare
def take_place(b: Booked, place: int, units: int, start: float, finish: float) -> None:
    """Give some units of a place away."""
    count = b.place_count[place]
    at = _after(b.place_start, place, count, start)
    _insert(b.place_start, place, count, at, start)
    _insert(b.place_finish, place, count, at, finish)
    for k in range(count, at, -1):
        b.place_units[place, k] = b.place_units[place, k - 1]
    b.place_units[place, at] = units
    b.place_count[place] += 1


@bare
def push(ready: Ints, count: int, number: int, key: Floats, task: Table) -> None:
    """Put a node among those ready, the one to be taken next last."""
    k = count
    while k > 0 and _sooner(ready[k - 1], number, key, task):
        ready[k] = ready[k - 1]
        k -= 1
    ready[k] = number


@bare
def _sooner(one: int, other: int, key: Floats, task: Table) -> bool:
    """Return whether `one` is taken before `other`: begun first, then by key."""
    if task[one].begun != task[other].begun:
        return bool(task[one].begun > task[other].begun)
    if key[one] != key[other]:
        return bool(key[one] < key[other])
    return one < other


@bare
def places_again(p: Problem, n: int, start: float, finish: float, b: Booked) -> float:
    """Return when to try again if a place a node takes is too full, else FREE."""
    again = FREE
    for u in range(p.task[n].use_from, p.task[n + 1].use_from):
        place = p.use[u].place
        room = p.capacity[place] - p.use[u].units
        again = max(again, place_again(b, place, room, start, finish))
    return again


@bare
def book(p: Problem, n: int, placed: Placed, b: Booked) -> None:
    """Give away the hands and places a node holds from start to finish."""
    start, finish, team = placed.start[n], placed.finish[n], placed.team[n]
    if team >= 0:
        for m in range(p.team[team].member_from, p.team[team + 1].member_from):
            take_person(b, p.member[m], start, finish)
    for u in range(p.task[n].use_from, p.task[n + 1].use_from):
        take_place(b, p.use[u].place, p.use[u].units, start, finish)
