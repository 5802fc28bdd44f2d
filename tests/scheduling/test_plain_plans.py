"""Plain problems placed one by one, moment by moment, and in a known plan's steps."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

import scheduling
from scheduling.search.arrays import Ints
from scheduling.search.booking import room_for
from scheduling.search.decoder import decode
from scheduling.search.kin import NEVER
from scheduling.search.parallel import parallel
from scheduling.search.plain import Plain, plain_of
from scheduling.search.profile import serial
from scheduling.search.retrace import retrace
from scheduling.solve import Posed
from tests.scheduling.examples import examples
from tests.scheduling.problems import keys, posed_problem

some = examples(60)


class Made(NamedTuple):
    """A plan, and how many starts were worked out for it."""

    start: Ints
    finish: Ints
    span: int
    worked_out: int


@st.composite
def plain_rows(draw: st.DrawFn) -> dict[str, Any]:
    """Jobs with lengths, links, waits and units of up to five places; no hours."""
    count = draw(st.integers(1, 12))
    rooms = draw(st.lists(st.integers(1, 4), min_size=0, max_size=5))
    jobs = []
    for n in range(count):
        before = draw(st.lists(st.integers(0, n - 1), unique=True)) if n else []
        uses = [
            {"place": f"p{k}", "uses": draw(st.integers(1, room))}
            for k, room in enumerate(rooms)
            if draw(st.booleans())
        ]
        jobs.append(
            {
                "id": f"j{n}",
                "estimate": {"likely": draw(st.integers(0, 5)) / 2, "fixed": True},
                "places": uses,
                "after": [
                    {"job": f"j{m}", "wait_hours": draw(st.integers(0, 2))}
                    for m in before
                ],
            }
        )
    places = [{"id": f"p{k}", "capacity": room} for k, room in enumerate(rooms)]
    return {"places": places, "jobs": jobs}


def posed_plain(rows: dict[str, Any]) -> tuple[Posed, Plain]:
    posed, _, problem, _ = posed_problem(scheduling.read_plan(rows))
    plain = plain_of(posed.network, problem)
    assert plain is not None
    return posed, plain


def room(plain: Plain) -> tuple[Ints, Ints, Ints]:
    start, finish = (np.zeros(plain.nodes, dtype=np.int64) for _ in "12")
    free = np.zeros((plain.need.shape[1], plain.steps), dtype=np.int64)
    return free, start, finish


def in_series(plain: Plain, back: bool, order: Ints) -> Made:
    free, start, finish = room(plain)
    span = serial(plain, back, order, free, start, finish)
    return Made(start, finish, span, plain.nodes)


def in_parallel(plain: Plain, back: bool, key: Ints, limit: int = NEVER) -> Made:
    free, start, finish = room(plain)
    left, worked_out = np.zeros_like(start), np.zeros(1, dtype=np.int64)
    span = parallel(plain, back, key, left, free, start, finish, limit, worked_out)
    return Made(start, finish, span, int(worked_out[0]))


def retraced(
    plain: Plain, back: bool, order: Ints, known: Ints, limit: int = NEVER
) -> tuple[Made, bool]:
    free, start, finish = room(plain)
    worked_out = np.zeros(1, dtype=np.int64)
    begun = in_series(plain, back, known).start
    span, apart = retrace(
        plain, back, order, free, start, finish, known, begun, limit, worked_out
    )
    return Made(start, finish, span, int(worked_out[0])), apart


def two_orders(plain: Plain, back: bool, swaps: int, seed: int) -> tuple[Ints, Ints]:
    """Return an order at random that the links allow, and one so many swaps away."""
    random = np.random.default_rng(seed)
    link_from, link = plain.before_from, plain.before
    if back:
        link_from, link = plain.after_from, plain.after
    first = [set(link[link_from[n] : link_from[n + 1]]) for n in range(plain.nodes)]
    order: list[int] = []
    while len(order) < plain.nodes:
        can = [n for n in range(plain.nodes) if n not in order and first[n] <= {*order}]
        order.append(int(random.choice(can)))
    other = order.copy()
    for at in random.integers(0, max(plain.nodes - 1, 1), swaps):
        if at + 1 < plain.nodes and other[at] not in first[other[at + 1]]:
            other[at], other[at + 1] = other[at + 1], other[at]
    return np.array(order), np.array(other)


@given(rows=plain_rows(), seed=st.integers(0, 1000))
@some
def test_step_by_step_and_by_interval_agree_on_plain_problems(
    rows: dict[str, Any], seed: int
) -> None:
    posed, _, problem, _ = posed_problem(scheduling.read_plan(rows))
    plain = plain_of(posed.network, problem)
    assert plain is not None
    placed, booked = room_for(problem)
    decode(problem, keys(posed.network, seed), placed, booked)
    made = in_series(plain, False, placed.turn)
    assert (made.start * plain.unit + problem.now).tolist() == placed.start.tolist()
    assert (made.finish * plain.unit + problem.now).tolist() == placed.finish.tolist()
    assert made.span == made.finish.max()


@given(rows=plain_rows(), back=st.booleans(), seed=st.integers(0, 1000))
@some
def test_in_parallel_nothing_that_could_have_begun_waits(
    rows: dict[str, Any], back: bool, seed: int
) -> None:
    """What makes a plan non-delay (Kolisch 1996, EJOR 90:320-333, from memory)."""
    posed, plain = posed_plain(rows)
    key = np.random.default_rng(seed).permutation(plain.nodes)
    start, finish, span, worked_out = in_parallel(plain, back, key)
    assert worked_out == plain.nodes
    links = [
        (int(plain.before[a]), n, int(plain.before_wait[a]))
        for n in range(plain.nodes)
        for a in range(plain.before_from[n], plain.before_from[n + 1])
    ]
    links = [(two, one, wait) for one, two, wait in links] if back else links
    assert all(finish[one] + wait <= start[two] for one, two, wait in links)
    uses = {
        f"j{n}": {one["place"]: one["uses"] for one in row["places"]}
        for n, row in enumerate(rows["jobs"])
    }
    room = {one["id"]: one["capacity"] for one in rows["places"]}
    need = {n: uses[job] for job, n in posed.network.index.items()}

    def taken(step: int) -> dict[str, int]:
        going = [n for n in need if start[n] <= step < finish[n]]
        return {place: sum(need[n].get(place, 0) for n in going) for place in room}

    for step in range(span):
        now = taken(step)
        assert all(now[place] <= room[place] for place in room)
        for n in range(plain.nodes):
            ready = max((finish[a] + w for a, two, w in links if two == n), default=0)
            if ready <= step < start[n]:
                assert any(now[k] + units > room[k] for k, units in need[n].items())


near = {
    "rows": plain_rows(),
    "back": st.booleans(),
    "swaps": st.integers(0, 12),
    "seed": st.integers(0, 1000),
}


@given(**near)
@some
def test_in_the_steps_of_a_known_plan_it_is_the_plan_it_would_be_without(
    rows: dict[str, Any], back: bool, swaps: int, seed: int
) -> None:
    _, plain = posed_plain(rows)
    known, order = two_orders(plain, back, swaps, seed)
    whole = in_series(plain, back, order)
    found, apart = retraced(plain, back, order, known)
    assert found.start.tolist() == whole.start.tolist()
    assert found.finish.tolist() == whole.finish.tolist()
    assert found.span == whole.span
    assert apart == (found.start != in_series(plain, back, known).start).any()
    assert found.worked_out <= plain.nodes


@given(**near)
@some
def test_a_plan_is_given_up_only_where_it_is_too_long(
    rows: dict[str, Any], back: bool, swaps: int, seed: int
) -> None:
    _, plain = posed_plain(rows)
    known, order = two_orders(plain, back, swaps, seed)
    whole = in_series(plain, back, order)
    for limit in (whole.span - 1, whole.span, whole.span + 1):
        found, _ = retraced(plain, back, order, known, limit)
        assert (found.span > limit) == (whole.span > limit)
    key = np.argsort(order)
    whole = in_parallel(plain, back, key)
    for limit in (whole.span - 1, whole.span, whole.span + 1):
        found = in_parallel(plain, back, key, limit)
        assert (found.span > limit) == (whole.span > limit)


def test_only_what_is_new_is_worked_out() -> None:
    """Four jobs in a row on one bench; the last two change places."""
    jobs = [
        {"id": f"j{n}", "estimate": {"likely": n + 1, "fixed": True}, "places": ["p"]}
        for n in range(4)
    ]
    _, plain = posed_plain({"places": [{"id": "p"}], "jobs": jobs})
    known, order = np.array([0, 1, 2, 3]), np.array([0, 1, 3, 2])
    assert retraced(plain, False, known, known)[0].worked_out == 0
    found, apart = retraced(plain, False, order, known)
    assert (apart, found.worked_out, found.span) == (True, 2, 10)
    short, _ = retraced(plain, False, order, known, limit=6)  # j3 ends at 7
    assert short.worked_out == 1
