"""What one job asks for: which clock, how long, in which unit, from what state."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import combinations, islice

from scheduling.away import PromisedReturn, promise_of, spent_of
from scheduling.calendars import Clocks
from scheduling.estimates import Fixed, Floats, Spread, spread
from scheduling.plan import Estimate, Job, Person, Plan
from scheduling.timeline import PER_DAY, PER_HOUR
from scheduling.working_time import Clock

WORKS_ALONE = 2
HAND_KINDS = ("bench", "check")
SENT_KINDS = ("outside", "order")
TEAMS_TRIED = 200

Team = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Work:
    """A live job in the engine's terms.

    `spread` is in quarters (`in_days` False) or working days of `clock` (True).
    `spent` is how much of it has gone by; `release` the earliest quarter it may start.
    """

    job: Job
    clock: Clock
    key: frozenset[str]
    teams: tuple[Team, ...]
    spread: Spread
    in_days: bool
    length: float
    spent: float
    begun: bool
    release: float
    promise: PromisedReturn | None
    clocks: Mapping[Team, Clock] = field(compare=False)  # of each team

    @property
    def runs_on(self) -> bool:
        """Return whether it goes on day and night, whoever is closed."""
        return not self.key

    def clock_of(self, team: Team) -> Clock:
        """Return when one of its teams, or nobody, can work on it."""
        return self.clocks[team] if team else self.clock

    def finish(
        self, start: float, clock: Clock | None = None, pace: float = 1.0
    ) -> float:
        """Return when the work is done if it starts at `start`."""
        if self.promise:
            return max(start, self.promise.due)
        clock = clock or self.clock
        if self.in_days:
            return clock.add_days(start, self.length)
        return clock.add(start, self.length * pace)

    def latest_start(self, finish: float) -> float:
        """Return the latest start whose work is done by `finish`."""
        if self.in_days:
            return self.clock.back_days(finish, self.length)
        return self.clock.back(finish, self.length)


def qualified(job: Job, person: Person) -> bool:
    """Return whether a person may sign for this job's trade and level."""
    need = max(job.trade_level or WORKS_ALONE, WORKS_ALONE)
    return job.trade is not None and person.trades.get(job.trade, 0) >= need


def teams_for(job: Job, people: tuple[Person, ...]) -> tuple[Team, ...]:
    """Return the sets of people who could do a job, least senior first.

    Notes
    -----
    Someone in each team has the job's level and works alone at least; the others
    need the trade at any level. Empty when nobody has to be found, or nobody can.
    """
    if job.kind not in HAND_KINDS:
        return ()
    here = [one for one in people if not one.left_out]
    if job.person:
        first = [one for one in here if one.id == job.person]
    else:
        first = [one for one in here if qualified(job, one)]
        first.sort(key=lambda one: one.trades.get(job.trade or "", 0))
    if job.people == 1 or not first:
        return tuple((one.id,) for one in first)
    others = [one for one in here if job.trade is None or job.trade in one.trades]
    found: dict[frozenset[str], Team] = {}
    for one in first:
        rest = [other for other in others if other.id != one.id]
        for more in islice(combinations(rest, job.people - 1), TEAMS_TRIED):
            team = (one.id, *(other.id for other in more))
            found.setdefault(frozenset(team), team)
    return tuple(found.values())


def needs_hands(job: Job) -> bool:
    """Return whether somebody in house has to be found for this job."""
    named = bool(job.trade or job.person)
    return job.kind in HAND_KINDS and named and job.state != "left out"


def team_key(team: Team, job: Job) -> frozenset[str]:
    """Return the clock key of a team and the job's places."""
    people = [f"person:{one}" for one in team]
    return frozenset([*people, *[f"place:{use.place}" for use in job.places]])


def _key(job: Job, clocks: Clocks) -> frozenset[str]:
    if job.kind in ("stand", "decision"):
        return frozenset()
    if job.kind in SENT_KINDS:
        return frozenset({f"vendor:{job.vendor}" if job.vendor else clocks.default})
    places = {f"place:{use.place}" for use in job.places}
    return frozenset(places | {clocks.default})


def _estimate(job: Job) -> Estimate:
    if job.state == "left out" or job.kind == "mark" or job.estimate is None:
        return Estimate(likely=0.0, fixed=True)
    if job.kind in SENT_KINDS and job.pieces and job.pieces_back >= job.pieces:
        return Estimate(likely=0.0, fixed=True)
    return job.estimate


def _unit(job: Job) -> float:
    """Return quarters per unit of the estimate (1 where it counts working days)."""
    if job.kind == "decision":
        return float(PER_DAY)
    return 1.0 if job.kind in SENT_KINDS else float(PER_HOUR)


def _scaled(estimate: Estimate, unit: float) -> Estimate:
    low = None if estimate.low is None else estimate.low * unit
    high = None if estimate.high is None else estimate.high * unit
    return Estimate(estimate.likely * unit, low, high, estimate.fixed)


def begun(job: Job) -> bool:
    """Return whether a job is under way, or away."""
    return job.state == "under way" or (job.sent is not None and job.state == "open")


def work_of(job: Job, plan: Plan, clocks: Clocks, now: float) -> Work:
    """Return a live job in the engine's terms at the status moment."""
    teams = teams_for(job, plan.people)
    key = _key(job, clocks)
    clock = clocks.of(key)
    keys = {team: team_key(team, job) for team in teams}
    if teams:
        clock = clocks.any_of(keys.values())
    elif not clock.ever_open:
        clock = clocks.shop()
    unit = _unit(job)
    law = spread(_scaled(_estimate(job), unit), plan.reading, job.kind)
    in_days = job.kind in SENT_KINDS
    spent = spent_of(job, clock, clocks, now, in_days) if begun(job) else 0.0
    if begun(job) and job.remaining is not None:
        law, spent = _rest(law, job.remaining * unit), 0.0
    length = max(law.expected - spent, 0.1 * law.expected) if spent else law.expected
    return Work(
        job, clock, key, teams, law, in_days, length, spent, begun(job),
        _release(job, clocks, now), promise_of(job, plan, clock, clocks, now),
        {team: clocks.of(one) for team, one in keys.items()},
    )  # fmt: skip


def _rest(law: Spread, left: float) -> Spread:
    """Return the law of what is left: the job's own shape about `left`."""
    if isinstance(law, Fixed) or law.expected <= 0 or left <= 0:
        return Fixed(left)
    return Remainder(law, left / law.expected)


@dataclass(frozen=True, slots=True)
class Remainder:
    """Another law, scaled: what is left of a job under way."""

    whole: Spread
    share: float

    @property
    def expected(self) -> float:
        """Return the expected rest."""
        return self.whole.expected * self.share

    def draw(self, scores: Floats) -> Floats:
        """Return rests for standard normal scores."""
        return self.whole.draw(scores) * self.share

    def draw_beyond(self, spent: Floats, scores: Floats) -> Floats:
        """Return rests; nothing has been spent of a remainder."""
        return self.draw(scores)


def _release(job: Job, clocks: Clocks, now: float) -> float:
    if job.not_before is None or begun(job):
        return now
    return max(now, clocks.timeline.quarter(job.not_before))
