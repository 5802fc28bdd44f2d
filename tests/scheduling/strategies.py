"""Hypothesis strategies for whole plans that make sense and can mostly be planned.

`valid_plans()` gives small workshops: a few calendars, people, places and vendors,
one or two builds, perhaps a show, up to eight jobs with links of every kind that only
ever point backwards, and perhaps a consignment with a check behind it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from hypothesis import strategies as st

from scheduling.pieces import Move, Piece, PieceState
from scheduling.plan import (
    BatchRule,
    Build,
    Calendar,
    Consignment,
    Entry,
    Estimate,
    Factors,
    Hours,
    Job,
    Kind,
    Link,
    LinkKind,
    PastReturn,
    Person,
    Place,
    PlaceUse,
    Plan,
    Promise,
    Show,
    SlotRule,
    Span,
    Vendor,
    Way,
)

NOW = datetime(2027, 1, 11, 8, 0)  # a Monday
TODAY = NOW.date()
TRADES = ("weld", "panel", "trim")
LEVELS = ("on the stand", "running", "road-ready", "complete")
DAY: tuple[Hours, ...] = (Hours(480, 720), Hours(780, 1020))
KINDS: tuple[Kind, ...] = (
    *("bench", "bench", "bench", "outside", "order"),
    *("decision", "stand", "check", "mark"),
)
LINK_KINDS: tuple[LinkKind, ...] = ("after", "after", "after", "with", "by")

days = st.integers(-30, 400).map(lambda n: TODAY + timedelta(days=n))
later_days = st.integers(1, 200).map(lambda n: TODAY + timedelta(days=n))
past_days = st.integers(0, 60).map(lambda n: TODAY - timedelta(days=n))
past_moments = st.integers(0, 4000).map(lambda n: NOW - timedelta(minutes=15 * n))
names = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8
)


@st.composite
def spans(draw: st.DrawFn) -> Span:
    first = draw(days)
    return Span(first, first + timedelta(days=draw(st.integers(0, 10))))


few_spans = st.lists(spans(), max_size=2).map(tuple)


@st.composite
def day_hours(draw: st.DrawFn) -> tuple[Hours, ...]:
    """One or two opening times that follow each other, on whole quarter-hours."""
    count = draw(st.sampled_from((2, 2, 4)))
    edges = st.lists(st.integers(0, 96), min_size=count, max_size=count, unique=True)
    at = [15 * edge for edge in sorted(draw(edges))]
    return tuple(Hours(at[n], at[n + 1]) for n in range(0, count, 2))


@st.composite
def calendars(draw: st.DrawFn, name: str) -> Calendar:
    """A working week: plain five days, or a mixed one."""
    if draw(st.integers(0, 5)) == 0:
        return Calendar(name, elapsed=True)
    week = dict.fromkeys(("mon", "tue", "wed", "thu", "fri"), DAY)
    if draw(st.booleans()):
        week["fri"] = draw(day_hours())
        week["sat"] = draw(st.one_of(st.just(()), day_hours()))
    return Calendar(
        name,
        week=week,
        holidays=draw(st.sampled_from((None, "GB-ENG", "DE-BY", "NZ"))),
        closed=draw(few_spans),
        open=draw(st.dictionaries(days, day_hours(), max_size=1)),
    )


def _one_of(ids: Sequence[str]) -> st.SearchStrategy[str | None]:
    return st.sampled_from((None, *ids))


@st.composite
def people(draw: st.DrawFn, calendar_ids: Sequence[str]) -> tuple[Person, ...]:
    """Nobody, or a first one who may do everything and some others."""
    found = []
    for number in range(draw(st.integers(0, 3))):
        trades = st.dictionaries(st.sampled_from(TRADES), st.integers(1, 3))
        found.append(
            Person(
                f"p{number}",
                name=draw(names),
                calendar=draw(_one_of(calendar_ids)),
                trades=draw(trades) if number else dict.fromkeys(TRADES, 3),
                away=draw(few_spans),
                pace=draw(
                    st.dictionaries(
                        st.sampled_from(TRADES), st.sampled_from((0.5, 1.5, 2.0))
                    )
                ),
            )
        )
    return tuple(found)


@st.composite
def past_returns(draw: st.DrawFn) -> PastReturn:
    taken = draw(st.sampled_from((1.0, 5.0, 10.0, 14.5)))
    return PastReturn(
        draw(st.sampled_from((1.0, 5.0, 10.0, 14.5))),
        taken,
        draw(st.sampled_from((0.0, 0.0, taken / 2))),
        what=draw(names),
        back=draw(st.one_of(st.none(), past_days)),
    )


batch_rules = st.builds(
    BatchRule,
    st.lists(st.sampled_from(("process", "colour", "alloy")), unique=True).map(tuple),
    st.sampled_from((None, 25.0)),
    st.dictionaries(
        st.sampled_from(("black", "clear")), st.sampled_from((("tue",), ("mon", "thu")))
    ),
)


@st.composite
def vendors(draw: st.DrawFn, name: str, calendar_ids: Sequence[str]) -> Vendor:
    slots = st.builds(SlotRule, st.integers(1, 20), days)
    return Vendor(
        name,
        name=draw(names),
        calendar=draw(_one_of(calendar_ids)),
        closed=draw(few_spans),
        minimum_charge=draw(st.sampled_from((None, 0.0, 120.5))),
        slots=draw(st.one_of(st.none(), slots)),
        batch=draw(st.one_of(st.none(), batch_rules)),
        history=tuple(draw(st.lists(past_returns(), max_size=2))),
        reject_chance=draw(st.sampled_from((0.0, 0.05))),
    )


@st.composite
def estimates(draw: st.DrawFn) -> Estimate:
    """Whole quarters of the unit; sometimes only likely, sometimes fixed."""
    low, likely, high = sorted(
        draw(st.lists(st.integers(1, 120), min_size=3, max_size=3))
    )
    if draw(st.booleans()):
        return Estimate(likely / 4, fixed=draw(st.booleans()))
    return Estimate(likely / 4, low / 4, high / 4, fixed=draw(st.booleans()))


@st.composite
def links(draw: st.DrawFn, earlier: Sequence[str]) -> tuple[Link, ...]:
    """Links of every kind to earlier jobs, each job at most once."""
    if not earlier:
        return ()
    chosen = draw(st.lists(st.sampled_from(list(earlier)), max_size=3, unique=True))
    waits = st.sampled_from((0.0, 0.0, 0.0, 1.0, 2.5))
    kinds = st.sampled_from(LINK_KINDS)
    return tuple(Link(one, draw(kinds), draw(waits), draw(waits)) for one in chosen)


@st.composite
def promises(draw: st.DrawFn) -> Promise:
    return Promise(
        draw(st.one_of(st.none(), later_days)),
        draw(st.one_of(st.none(), past_days)),
        by=draw(names),
        asked=draw(names),
        speaker=draw(names),
    )


@st.composite
def ways(draw: st.DrawFn, vendor_ids: Sequence[str]) -> tuple[Way, ...]:
    """None, or two: in house, and at a vendor where there is one."""
    if not vendor_ids or draw(st.integers(0, 3)) > 0:
        return ()
    cost = st.sampled_from((None, 0.0, 120.5))
    spoil = st.sampled_from((0.0, 0.1))
    return (
        Way("w0", draw(names), trade="weld", trade_level=2, estimate=draw(estimates())),
        Way(
            "w1",
            draw(names),
            "outside",
            draw(st.sampled_from(list(vendor_ids))),
            estimate=draw(estimates()),
            cost=draw(cost),
            spoil_chance=draw(spoil),
        ),
    )


def _history(draw: st.DrawFn, kind: str, number: int) -> dict[str, object]:
    """How far a job has got: mostly open, the first ones sometimes done."""
    turn = draw(st.integers(0, 9))
    if turn == 0 and number < 3:
        finished = draw(past_moments)
        started = finished - timedelta(hours=draw(st.integers(0, 50)))
        return {"state": "done", "started": started, "finished": finished}
    if turn == 1 and kind != "mark":
        remaining = draw(st.sampled_from((None, 0.0, 1.5)))
        started = draw(past_moments)
        return {"state": "under way", "started": started, "remaining": remaining}
    if turn == 2:
        return {"state": "left out"}
    if turn == 3:
        day = draw(later_days)
        return {"not_before": datetime.combine(day, NOW.time()), "needed_by": day}
    return {}


@st.composite
def _hands(draw: st.DrawFn, team: Sequence[Person]) -> dict[str, object]:
    """Who is wanted for a bench job or a check: nobody, a trade, a person."""
    if not team or draw(st.integers(0, 3)) == 0:
        return {}
    given: dict[str, object] = {
        "trade": draw(st.sampled_from(TRADES)),
        "trade_level": draw(st.sampled_from((None, 1, 2, 3))),
    }
    if draw(st.booleans()):
        given["person"] = team[0].id
    return given


def _away(draw: st.DrawFn, vendor_ids: Sequence[str]) -> dict[str, object]:
    """What is known of a job at a vendor."""
    given: dict[str, object] = {"vendor": draw(_one_of(vendor_ids))}
    if draw(st.booleans()):
        pieces = draw(st.integers(1, 5))
        given |= {"pieces": pieces, "pieces_noted": pieces}
    if draw(st.integers(0, 2)) == 0:
        given |= {
            "sent": draw(past_days),
            "promised": draw(st.one_of(st.none(), later_days)),
            "promises": tuple(draw(st.lists(promises(), max_size=2))),
            "pieces_back": draw(st.integers(0, 1)) if "pieces" in given else 0,
            "slot": draw(st.booleans()),
            "could_start": draw(st.one_of(st.none(), past_days)),
            "acknowledged": draw(st.one_of(st.none(), past_days)),
            "back_order": draw(st.booleans()),
        }
    given |= {
        "process": draw(names),
        "colour": draw(names),
        "alloy": draw(names),
        "kilos": draw(st.sampled_from((None, 2.5))),
        "visible": draw(st.booleans()),
    }
    return given


def _named(draw: st.DrawFn, number: int, given: dict[str, object]) -> tuple[Piece, ...]:
    """The job's counts as named pieces: those that are back, and the rest."""
    total = given.get("pieces")
    if not isinstance(total, int) or draw(st.booleans()):
        return ()
    back = int(str(given.get("pieces_back", 0)))
    counts: list[tuple[PieceState, int]] = [("back", back), ("out", total - back)]
    trail = (Move(NOW, "Petra", "Stores, shelf 2", "here", total, "Petra", "whole"),)
    return tuple(
        Piece(f"j{number}-{state}", "Petra", "Shelf 2", draw(names), n, state, trail)
        for state, n in counts
        if n
    )


@st.composite
def jobs(draw: st.DrawFn, number: int, around: Plan) -> Job:
    """A job that may wait for any of `j0` ... `j(number - 1)`."""
    kind = draw(st.sampled_from(KINDS))
    given: dict[str, object] = _history(draw, kind, number)
    if kind in ("bench", "check"):
        given |= draw(_hands(around.people))
        if len(around.places) > 0 and draw(st.booleans()):
            place = draw(st.sampled_from(around.places))
            given["places"] = (
                PlaceUse(place.id, draw(st.integers(1, place.capacity))),
            )
    if kind in ("outside", "order"):
        given |= _away(draw, [one.id for one in around.vendors])
    if kind != "mark":
        given["estimate"] = draw(estimates())
    made = draw(ways([one.id for one in around.vendors]))
    given["piece_list"] = _named(draw, number, given)
    return Job(
        f"j{number}",
        build=draw(_one_of([one.id for one in around.builds])),
        value=draw(st.sampled_from((None, 900.0))),
        ways=made,
        way=draw(_one_of([one.id for one in made])),
        title=draw(names),
        kind=kind,
        after=draw(links([f"j{n}" for n in range(number)])),
        level=draw(_one_of(LEVELS)),
        commitment=draw(st.booleans()) and kind == "bench",
        unbroken=draw(st.integers(0, 5)) == 0 and kind in ("bench", "check"),
        safety=draw(st.booleans()),
        rework_chance=draw(st.sampled_from((0.0, 0.0, 0.1))),
        found=draw(st.sampled_from((None, None, "asked", "yes", "no"))),
        note=draw(names),
        **given,  # type: ignore[arg-type]
    )


@st.composite
def crates(draw: st.DrawFn, earlier: Sequence[str], around: Plan) -> tuple[Job, ...]:
    """One to three more outside jobs for one vendor, and a check of what comes back."""
    number = len(earlier)
    vendor = draw(st.sampled_from(around.vendors)).id
    sent = [
        Job(
            f"j{number + n}",
            kind="outside",
            vendor=vendor,
            estimate=draw(estimates()),
            after=draw(links(earlier)),
        )
        for n in range(draw(st.integers(1, 3)))
    ]
    back = Job(
        f"j{number + len(sent)}",
        kind="check",
        estimate=draw(estimates()),
        after=draw(links([job.id for job in sent])),
    )
    return (*sent, back)


@st.composite
def shows(draw: st.DrawFn, build_ids: Sequence[str]) -> tuple[Show, ...]:
    """No show, or one that at least one car is entered for."""
    if draw(st.booleans()):
        return ()
    cars = draw(
        st.lists(st.sampled_from(list(build_ids)), min_size=1, max_size=2, unique=True)
    )
    entries = tuple(Entry(car, draw(_one_of(LEVELS))) for car in cars)
    move_in = NOW + timedelta(days=draw(st.integers(1, 300)), hours=8)
    return (Show("s0", draw(names), move_in, entries),)


@st.composite
def _surroundings(draw: st.DrawFn) -> Plan:
    """Everything but the jobs."""
    ids = [f"cal{n}" for n in range(draw(st.integers(0, 2)))]
    factors = st.builds(Factors, *[st.sampled_from((0.0, 0.25)) for _ in range(3)])
    return Plan(
        now=NOW,
        timezone=draw(st.sampled_from(("UTC", "Europe/London"))),
        reading=draw(st.sampled_from(("one-in-ten", "one-in-ten", "ends"))),
        seed=draw(st.integers(0, 99)),
        samples=200,
        factors=draw(st.one_of(st.none(), factors)),
        calendars=tuple(draw(calendars(one)) for one in ids),
        people=draw(people(ids)),
        places=tuple(
            Place(f"x{n}", capacity=draw(st.integers(1, 3)))
            for n in range(draw(st.integers(0, 2)))
        ),
        vendors=tuple(
            draw(vendors(f"v{n}", ids)) for n in range(draw(st.integers(0, 2)))
        ),
        builds=tuple(
            Build(f"b{n}", name=draw(names), rank=draw(st.integers(0, 3)))
            for n in range(draw(st.integers(1, 2)))
        ),
    )


@st.composite
def valid_plans(draw: st.DrawFn, most_jobs: int = 8) -> Plan:
    """Whole small plans that `check_plan` has nothing against."""
    plan = draw(_surroundings())
    made = tuple(
        draw(jobs(number, plan)) for number in range(draw(st.integers(0, most_jobs)))
    )
    crate: tuple[Job, ...] = ()
    if len(plan.vendors) > 0 and draw(st.booleans()):
        crate = draw(crates([job.id for job in made], plan))
    leaves = draw(st.sampled_from((None, NOW + timedelta(days=9, hours=2))))
    together = tuple(job.id for job in crate[:-1])
    return replace(
        plan,
        shows=draw(shows([one.id for one in plan.builds])),
        jobs=(*made, *crate),
        consignments=tuple(
            Consignment("c0", one.vendor or "", together, leaves) for one in crate[:1]
        ),
    )
