"""The plan as a constraint model: when each node runs, by whom, beside what else.

Nodes of one fixed length are plain intervals; the others pick one of their runs. So a
problem with no calendars and one way to do each job is the textbook model: intervals,
links and limits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from scheduling.network import Network
from scheduling.proof.links import Literal, Number, asked_finish, asked_start
from scheduling.proof.ranges import Choice, Stretch
from scheduling.proof.ways import Run, Way
from scheduling.shared_plan import SharedPlan
from scheduling.wishes import whole
from scheduling.work import Team


@dataclass(slots=True)
class Planned:
    """The variables of one node; `finish` may be no sooner than its work is done."""

    choice: Choice
    start: Number
    length: Number
    finish: Number
    teams: dict[Team, Literal]
    runs: list[tuple[Way, Run, cp_model.IntVar]] = field(default_factory=list)

    def by(self, model: cp_model.CpModel, person: str) -> Literal:
        """Return the literal of a person working on it (0 or 1 where it is certain)."""
        mine = [team for team in self.teams if person in team]
        if len(mine) == len(self.teams):
            return 1
        if len(mine) == 1:
            return self.teams[mine[0]]
        here = model.new_bool_var("")
        model.add(sum(self.teams[team] for team in mine) == here)
        return here

    def as_planned(
        self, start: int, finish: int, team: Team
    ) -> Iterator[tuple[Number, int]]:
        """Yield the variables with their values in a plan."""
        yield self.start, start
        yield self.finish, finish
        for other, literal in self.teams.items():
            yield literal, int(other == team)
        for way, run, literal in self.runs:
            here = team in way.teams and run.first <= start <= run.last
            yield literal, int(here)
            if here:
                yield self.length, run.length


@dataclass(slots=True)
class Model:
    """A constraint model and the nodes in it."""

    cp: cp_model.CpModel
    nodes: dict[int, Planned]

    def hint(self, shared: SharedPlan) -> None:
        """Start the solver from a plan."""
        told: dict[int, tuple[cp_model.IntVar, int]] = {}
        for number, one in self.nodes.items():
            start, finish = whole(shared.start[number]), whole(shared.finish[number])
            for variable, value in one.as_planned(start, finish, shared.team[number]):
                if isinstance(variable, cp_model.IntVar):
                    told[variable.index] = variable, value
        self.cp.clear_hints()  # type: ignore[no-untyped-call]
        for variable, value in told.values():
            self.cp.add_hint(variable, value)


def build_model(network: Network, found: Mapping[int, Choice]) -> Model:
    """Return the model of the nodes that `found` says something of.

    Notes
    -----
    People and places are held from start to finish, pauses and waits for a linked
    finish included, as the shared plan holds them.
    """
    model = Model(cp_model.CpModel(), {})
    for number, choice in found.items():
        model.nodes[number] = _planned(model.cp, choice)
    for number in found:
        _link(model, network, number)
    return model


def _planned(cp: cp_model.CpModel, choice: Choice) -> Planned:
    if choice.frozen:
        run = choice.ways[0].runs[0]
        team = choice.ways[0].teams[0]
        return Planned(choice, run.first, run.length, run.first + run.length, {team: 1})
    teams = [team for way in choice.ways for team in way.teams]
    runs = [run for way in choice.ways for run in way.runs]
    start = cp.new_int_var_from_domain(
        cp_model.Domain.from_intervals([[run.first, run.last] for run in runs]), ""
    )
    lengths = sorted({run.length for run in runs})
    length: Number = lengths[0]
    if len(lengths) > 1:
        length = cp.new_int_var_from_domain(cp_model.Domain.from_values(lengths), "")
    finish: Number = start + length
    if choice.held or len(lengths) > 1:
        finish = cp.new_int_var(*choice.finish, "")
        if choice.held:
            cp.add(finish >= start + length)
            cp.add(finish >= choice.floor)
        else:
            cp.add(finish == start + length)
    literals: dict[Team, Literal] = {teams[0]: 1}
    if len(teams) > 1:
        literals = {team: cp.new_bool_var("") for team in teams}
        cp.add_exactly_one(literals.values())
    planned = Planned(choice, start, length, finish, literals)
    if len(choice.ways) > 1 or len(lengths) > 1:
        _pick(cp, planned)
    return planned


def _pick(cp: cp_model.CpModel, one: Planned) -> None:
    """Let exactly one run hold, of a way whose team is taken."""
    for way in one.choice.ways:
        mine = []
        for run in way.runs:
            here = cp.new_bool_var("")
            cp.add_linear_constraint(one.start, run.first, run.last).only_enforce_if(
                here
            )
            if isinstance(one.length, cp_model.IntVar):
                cp.add(one.length == run.length).only_enforce_if(here)
            mine.append(here)
            one.runs.append((way, run, here))
        if len(one.choice.ways) > 1:
            cp.add(sum(mine) == sum(one.teams[team] for team in way.teams))
    cp.add_exactly_one(literal for *_, literal in one.runs)


def _link(model: Model, network: Network, number: int) -> None:
    node, after = network.nodes[number], model.nodes[number]
    for arc in node.before:
        before = model.nodes[arc.before]
        span: Stretch = before.choice.finish
        if arc.kind == "with":
            span = before.choice.start
        times = before.start, before.finish, span
        asked_start(model.cp, network, node, arc, times, after.start)
        if arc.kind == "by":
            asked_finish(model.cp, network, arc, before.finish, span, after.finish)
