"""People, places and slots as limits in the constraint model."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduling.network import Network, slot_vendor
from scheduling.proof.links import Number
from scheduling.proof.model import Model, Planned
from scheduling.soonest import instant
from scheduling.timeline import PER_DAY


@dataclass(frozen=True, slots=True)
class Span:
    """The time a node holds its people and places."""

    length: Number
    interval: cp_model.IntervalVar


def add_limits(model: Model, network: Network) -> None:
    """Let nobody and nothing be in two places."""
    spans = {
        number: _span(model.cp, one)
        for number, one in model.nodes.items()
        if _takes_time(one) and not network.nodes[number].gone
    }
    _people(model, spans)
    _places(model, network, spans)
    _slots(model, network)


def _takes_time(one: Planned) -> bool:
    return one.choice.held or any(run.length for w in one.choice.ways for run in w.runs)


def _span(cp: cp_model.CpModel, one: Planned) -> Span:
    """Return the span of a node, waits for a linked finish included."""
    if not one.choice.held:
        interval = cp.new_interval_var(one.start, one.length, one.finish, "")
        return Span(one.length, interval)
    most = one.choice.finish[1] - one.choice.start[0]
    length = cp.new_int_var(0, most, "")
    return Span(length, cp.new_interval_var(one.start, length, one.finish, ""))


def _people(model: Model, spans: dict[int, Span]) -> None:
    diaries: dict[str, list[cp_model.IntervalVar]] = defaultdict(list)
    pools: dict[int, frozenset[str]] = {}
    for number, span in spans.items():
        one = model.nodes[number]
        pools[number] = frozenset(person for team in one.teams for person in team)
        for person in sorted(pools[number]):
            here = one.by(model.cp, person)
            if isinstance(here, int):
                diaries[person].append(span.interval)
                continue
            diaries[person].append(
                model.cp.new_optional_interval_var(
                    one.start, span.length, one.finish, here, ""
                )
            )
    for diary in diaries.values():
        model.cp.add_no_overlap(diary)
    for pool in sorted({one for one in pools.values() if len(one) > 1}, key=sorted):
        mine = [number for number, one in pools.items() if one and one <= pool]
        model.cp.add_cumulative(
            [spans[number].interval for number in mine],
            [min(len(team) for team in model.nodes[number].teams) for number in mine],
            len(pool),
        )


def _places(model: Model, network: Network, spans: dict[int, Span]) -> None:
    uses: dict[str, list[tuple[cp_model.IntervalVar, int]]] = defaultdict(list)
    for number, span in spans.items():
        for work in network.nodes[number].works:
            for use in work.job.places:
                uses[use.place].append((span.interval, use.uses))
    for place in network.plan.places:
        inside = uses[place.id]
        if sum(many for _, many in inside) > place.capacity:
            here, units = [one for one, _ in inside], [many for _, many in inside]
            if 2 * min(units) > place.capacity:
                model.cp.add_no_overlap(here)
            else:
                model.cp.add_cumulative(here, units, place.capacity)


def _slots(model: Model, network: Network) -> None:
    """Give each slot of a vendor to one node at most."""
    taken: dict[tuple[str, int], list[cp_model.IntVar]] = defaultdict(list)
    for number, one in model.nodes.items():
        vendor = slot_vendor(network, network.nodes[number])
        if vendor is None or instant(network.nodes[number]):
            continue
        days = {run.first // PER_DAY for way in one.choice.ways for run in way.runs}
        for day in sorted(days):
            here = model.cp.new_bool_var("")
            taken[vendor, day].append(here)
        chosen = [taken[vendor, day][-1] for day in sorted(days)]
        model.cp.add_exactly_one(chosen)
        for day, here in zip(sorted(days), chosen, strict=True):
            model.cp.add_linear_constraint(
                one.start, day * PER_DAY, day * PER_DAY + PER_DAY - 1
            ).only_enforce_if(here)
    for literals in taken.values():
        if len(literals) > 1:
            model.cp.add_at_most_one(literals)
