"""The plan a workshop works to: frozen records, one per thing in the plan file.

Nothing here computes. `plan_file` makes these from JSON and writes them back;
times are naive local wall clock of `Plan.timezone`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from datetime import date as Day
from typing import Literal

from scheduling.pieces import Piece

DEFAULT_LEVELS = ("on the stand", "running", "road-ready", "complete")
DEFAULT_SEED = 1
DEFAULT_SAMPLES = 10_000
KEPT_JOBS = 20_000  # jobs of which something is kept, found by their content alone

Kind = Literal["bench", "outside", "order", "decision", "stand", "check", "mark"]
State = Literal["open", "under way", "done", "left out"]
LinkKind = Literal["after", "with", "by"]
Reading = Literal["one-in-ten", "ends"]
Answered = Literal["asked", "yes", "no"]


@dataclass(frozen=True, slots=True)
class Span:
    """Whole days, first and last included."""

    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Hours:
    """One opening time within a day, in minutes after midnight."""

    opens: int
    closes: int


@dataclass(frozen=True, slots=True)
class Calendar:
    """When work can happen. `week` is keyed mon..sun; `elapsed` runs day and night."""

    id: str
    week: Mapping[str, tuple[Hours, ...]] = field(default_factory=dict)
    holidays: str | None = None
    closed: tuple[Span, ...] = ()
    open: Mapping[date, tuple[Hours, ...]] = field(default_factory=dict)
    elapsed: bool = False


@dataclass(frozen=True, slots=True)
class Person:
    """Someone who works on cars; `trades` maps a trade to a level 1, 2 or 3."""

    id: str
    name: str = ""
    calendar: str | None = None
    trades: Mapping[str, int] = field(default_factory=dict)
    away: tuple[Span, ...] = ()
    pace: Mapping[str, float] = field(default_factory=dict)
    note: str = ""
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """Something that holds `capacity` units of work at once."""

    id: str
    name: str = ""
    capacity: int = 1
    calendar: str | None = None


@dataclass(frozen=True, slots=True)
class SlotRule:
    """A vendor start that exists only every so many of the vendor's working days."""

    every_working_days: int
    first: date


@dataclass(frozen=True, slots=True)
class PastReturn:
    """What a vendor once quoted and what it took, in the vendor's working days.

    `waited_days` of `actual_days` went by before the vendor could start.
    """

    quoted_days: float
    actual_days: float
    waited_days: float = 0.0
    what: str = ""
    back: date | None = None


@dataclass(frozen=True, slots=True)
class BatchRule:
    """What one batch at a vendor is: alike in `same`, no heavier than `kilos`.

    `days` names the weekdays (mon..sun) on which a colour is run.
    """

    same: tuple[str, ...] = ()
    kilos: float | None = None
    days: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Vendor:
    """An outside firm and its habits."""

    id: str
    name: str = ""
    calendar: str | None = None
    closed: tuple[Span, ...] = ()
    minimum_charge: float | None = None
    slots: SlotRule | None = None
    batch: BatchRule | None = None
    history: tuple[PastReturn, ...] = ()
    reject_chance: float = 0.0
    does: str = ""
    phone: str = ""
    note: str = ""
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Build:
    """One car for one customer; the lowest `rank` comes first."""

    id: str
    name: str = ""
    rank: int = 1
    customer: str = ""
    wanted: str = ""
    note: str = ""
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """A car entered for a show at the readiness level wanted there."""

    build: str
    level: str | None = None


@dataclass(frozen=True, slots=True)
class Show:
    """A dated event; its move-in does not move."""

    id: str
    name: str
    move_in: datetime
    entries: tuple[Entry, ...] = ()
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Estimate:
    """Low, likely and high in the unit of the job's kind."""

    likely: float
    low: float | None = None
    high: float | None = None
    fixed: bool = False


@dataclass(frozen=True, slots=True)
class Link:
    """The job that holds it waits for `job`; waits in working days or elapsed hours."""

    job: str
    kind: LinkKind = "after"
    wait_days: float = 0.0
    wait_hours: float = 0.0


@dataclass(frozen=True, slots=True)
class PlaceUse:
    """`uses` units of a place's capacity."""

    place: str
    uses: int = 1


@dataclass(frozen=True, slots=True)
class Promise:
    """A date a vendor gave (None: would not say), when, and to whom."""

    date: Day | None
    given: Day | None = None
    by: str = ""
    said: str = ""
    asked: str = ""
    speaker: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to get a job done: in house, or at some vendor.

    `spoil_chance` is the chance that it has to be done a second time.
    """

    id: str
    name: str = ""
    kind: Kind = "bench"
    vendor: str | None = None
    trade: str | None = None
    trade_level: int | None = None
    estimate: Estimate | None = None
    cost: float | None = None
    spoil_chance: float = 0.0


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of work."""

    id: str
    build: str | None = None
    title: str = ""
    kind: Kind = "bench"
    estimate: Estimate | None = None
    after: tuple[Link, ...] = ()
    trade: str | None = None
    trade_level: int | None = None
    people: int = 1
    person: str | None = None
    level: str | None = None
    phase: str = ""
    area: str = ""
    places: tuple[PlaceUse, ...] = ()
    vendor: str | None = None
    slot: bool = True
    commitment: bool = False
    unbroken: bool = False
    safety: bool = False
    state: State = "open"
    started: datetime | None = None
    finished: datetime | None = None
    remaining: float | None = None
    not_before: datetime | None = None
    needed_by: date | None = None
    sent: date | None = None
    promised: date | None = None
    promises: tuple[Promise, ...] = ()
    pieces: int | None = None
    pieces_back: int = 0
    pieces_noted: int | None = None
    holder: str = ""
    rework_chance: float = 0.0
    found: Answered | None = None
    snag: bool = False
    note: str = ""
    process: str = ""
    colour: str = ""
    alloy: str = ""
    kilos: float | None = None
    visible: bool = False
    could_start: date | None = None
    acknowledged: date | None = None
    back_order: bool = False
    pieces_wrong: int = 0
    robbed_for: str | None = None
    value: float | None = None
    ways: tuple[Way, ...] = ()
    way: str | None = None
    piece_list: tuple[Piece, ...] = ()


@dataclass(frozen=True, slots=True)
class Consignment:
    """Outside jobs that leave together and come back together."""

    id: str
    vendor: str
    jobs: tuple[str, ...]
    leaves: datetime | None = None
    name: str = ""
    left: datetime | None = None
    signed: str = ""


@dataclass(frozen=True, slots=True)
class Factors:
    """Shared factors as log standard deviations."""

    vendor: float
    build: float
    person: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole workshop at one moment (`now`)."""

    now: datetime
    timezone: str = "UTC"
    reading: Reading = "one-in-ten"
    seed: int = DEFAULT_SEED
    samples: int = DEFAULT_SAMPLES
    factors: Factors | None = None
    calendars: tuple[Calendar, ...] = ()
    people: tuple[Person, ...] = ()
    places: tuple[Place, ...] = ()
    vendors: tuple[Vendor, ...] = ()
    levels: tuple[str, ...] = DEFAULT_LEVELS
    builds: tuple[Build, ...] = ()
    shows: tuple[Show, ...] = ()
    jobs: tuple[Job, ...] = ()
    consignments: tuple[Consignment, ...] = ()
