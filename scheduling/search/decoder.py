"""Serial schedule generation on calendars, compiled: `shared_plan.serial_plan` again.

Same order, same whole quarters, same choice of hands; tests hold the two together.
"""

from __future__ import annotations

import math

from scheduling.compiled import bare
from scheduling.search.arrays import (
    AT_ONCE,
    BY,
    DAYS,
    IN_SLOT,
    PROMISED,
    WITH,
    Booked,
    Floats,
    Placed,
    Problem,
)
from scheduling.search.booking import (
    FREE,
    book,
    clear,
    person_again,
    person_from,
    places_again,
    push,
)
from scheduling.search.hours import (
    add,
    add_days,
    back,
    back_days,
    opening,
    unbroken_start,
)
from scheduling.timeline import PER_DAY, TINY

TRIES = 2000
NOBODY, NO_ROOM, NO_SLOT = 1, 2, 4  # bits of Placed.short


@bare
def decode(p: Problem, key: Floats, placed: Placed, b: Booked) -> None:
    """Place every node in order of `key`, the smallest first, as links allow."""
    clear(b)
    ready = 0
    for n in range(p.nodes):
        b.left[n] = p.task[n].waits
        if not b.left[n]:
            push(b.ready, ready, n, key, p.task)
            ready += 1
    turn = 0
    while ready:
        ready -= 1
        n = b.ready[ready]
        settle(p, n, placed, b)
        placed.turn[turn] = n
        turn += 1
        for a in range(p.task[n].after_from, p.task[n + 1].after_from):
            later = p.after[a]
            b.left[later] -= 1
            if not b.left[later]:
                push(b.ready, ready, later, key, p.task)
                ready += 1


@bare
def whole(moment: float) -> float:
    """Return the first whole quarter at or after a moment."""
    return float(math.ceil(moment - TINY))


@bare
def waited(p: Problem, a: int, moment: float) -> float:
    """Return `moment` plus the wait of link `a`."""
    moment += p.arc[a].wait
    if p.arc[a].days != 0.0:
        moment = add_days(p.hours, p.shop, moment, p.arc[a].days)
    return moment


@bare
def asked(p: Problem, n: int, placed: Placed) -> tuple[float, float]:
    """Return the earliest start links allow, and the finish some of them ask for."""
    earliest, ends = p.task[n].release, 0.0
    for a in range(p.task[n].arc_from, p.task[n + 1].arc_from):
        before = p.arc[a].before
        if p.arc[a].kind == WITH:
            reached = waited(p, a, placed.start[before])
        else:
            reached = waited(p, a, placed.finish[before])
            if p.arc[a].kind == BY:
                ends = max(ends, reached)
                reached = latest_start(p, n, reached)
        earliest = max(earliest, reached)
    return whole(earliest), whole(ends)


@bare
def latest_start(p: Problem, n: int, finish: float) -> float:
    """Return the latest start whose longest work is done by `finish`."""
    task = p.task[n]
    if task.lead_days:
        return back_days(p.hours, task.lead_clock, finish, task.lead_length)
    return back(p.hours, task.lead_clock, finish, task.lead_length)


@bare
def works_finish(p: Problem, n: int, start: float) -> float:
    """Return when the last work of a node is done by its own clock, exactly."""
    done = start
    for w in range(p.task[n].work_from, p.task[n + 1].work_from):
        work = p.work[w]
        if work.kind == PROMISED:
            done = max(done, work.due)
        elif work.kind == DAYS:
            done = max(done, add_days(p.hours, work.clock, start, work.length))
        else:
            done = max(done, add(p.hours, work.clock, start, work.length))
    return done


@bare
def settle(p: Problem, n: int, placed: Placed, b: Booked) -> None:
    """Place one node at its earliest and book what it uses."""
    ready, ends = asked(p, n, placed)
    placed.team[n], placed.short[n] = -1, 0
    if p.task[n].how == AT_ONCE:
        placed.start[n] = ready
        placed.finish[n] = max(works_finish(p, n, ready), ends)
    elif p.task[n].how == IN_SLOT:
        catch_slot(p, n, ready, ends, placed, b)
    else:
        find_hands(p, n, ready, ends, placed, b)
    if placed.finish[n] > placed.start[n]:
        book(p, n, placed, b)


@bare
def catch_slot(
    p: Problem, n: int, ready: float, ends: float, placed: Placed, b: Booked
) -> None:
    """Place a node in its vendor's first slot still free."""
    vendor, clock = p.task[n].vendor, p.task[n].lead_clock
    first, last = p.slot_from[vendor], p.slot_from[vendor + 1]
    start = ready = opening(p.hours, clock, ready)
    if last > first:  # past the written slots the last one stands
        k = first
        while k < last - 1 and p.slot_day[k] < ready // PER_DAY:
            k += 1
        start = max(opening(p.hours, clock, float(p.slot_day[k] * PER_DAY)), ready)
    placed.short[n] = NO_SLOT
    for k in range(first, last):
        day = p.slot_day[k]
        if day * PER_DAY + PER_DAY > ready and not b.slot_gone[vendor, day]:
            begin = max(opening(p.hours, clock, float(day * PER_DAY)), ready)
            finish = max(whole(works_finish(p, n, begin)), ends)
            if places_again(p, n, begin, finish, b) == FREE:
                start, placed.short[n] = begin, 0
                break
    placed.start[n] = start
    placed.finish[n] = max(whole(works_finish(p, n, start)), ends)
    day = int(start // PER_DAY)
    if day < b.slot_gone.shape[1]:
        b.slot_gone[vendor, day] = 1


@bare
def find_hands(
    p: Problem, n: int, ready: float, ends: float, placed: Placed, b: Booked
) -> None:
    """Place a node with the team that finishes first; the first listed if equal."""
    if p.task[n].by_hands < 0:
        placed.short[n] = NOBODY
    best = math.inf
    for team in range(p.task[n].team_from, p.task[n + 1].team_from):
        start, finish = offer(p, n, team, ready, ends, best, b)
        if start >= 0 and finish < best:
            best = finish
            placed.start[n], placed.finish[n], placed.team[n] = start, finish, team
    if best == math.inf:
        placed.short[n] += NO_ROOM
        start = opening(p.hours, p.task[n].lead_clock, ready)
        placed.start[n] = start
        placed.finish[n] = max(whole(lead_finish(p, n, start)), ends)


@bare
def lead_finish(p: Problem, n: int, start: float) -> float:
    """Return when the longest work of a node is done."""
    task = p.task[n]
    if task.lead_days:
        return add_days(p.hours, task.lead_clock, start, task.lead_length)
    return add(p.hours, task.lead_clock, start, task.lead_length)


@bare
def offer(
    p: Problem, n: int, team: int, ready: float, ends: float, best: float, b: Booked
) -> tuple[float, float]:
    """Return the earliest start and finish for one team; start -1 if there is none.

    Stops early once it cannot beat `best` any more.
    """
    moment = ready
    need = p.team[team].length - TINY if p.task[n].by_hands > 0 else 0.0
    first, last = p.team[team].member_from, p.team[team + 1].member_from
    for _ in range(TRIES):
        for m in range(first, last):
            moment = person_from(b, p.member[m], moment, need)
        start, finish = first_time(p, n, team, moment)
        finish = max(finish, ends)
        if start < 0 or finish >= best:
            return -1.0, 0.0
        again = FREE
        for m in range(first, last):
            again = max(again, person_again(b, p.member[m], start, finish))
        again = max(again, places_again(p, n, start, finish, b))
        if again == FREE:
            return start, finish
        moment = again
    return -1.0, 0.0


@bare
def first_time(p: Problem, n: int, team: int, moment: float) -> tuple[float, float]:
    """Return the first start at or after a moment a team's hours allow, and finish."""
    h, clock, length = p.hours, p.team[team].clock, p.team[team].length
    if p.task[n].unbroken:
        start = unbroken_start(h, clock, moment, length)
    else:
        start = opening(h, clock, moment)
    if p.task[n].by_hands > 0:
        return start, whole(add(h, clock, start, length))
    return start, whole(works_finish(p, n, start))
