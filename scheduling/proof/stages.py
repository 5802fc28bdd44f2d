"""The three parts of the cost, one after the other, each with those before it kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scheduling.network import Network
from scheduling.proof.limits import add_limits
from scheduling.proof.links import Number
from scheduling.proof.model import Model, build_model
from scheduling.proof.ranges import Choice
from scheduling.wishes import OTHER_HANDS, Cost, Following, Wish, Wishes


@dataclass(frozen=True, slots=True)
class Question:
    """A constraint model whose objective is one part of the cost."""

    model: Model
    part: int


def latest_ends(
    wishes: Wishes, soon: Sequence[int], cost: Cost, part: int
) -> dict[int, int]:
    """Return the latest finishes that a better plan could still have.

    Parameters
    ----------
    soon : lower bound of every finish
    cost : the cost to beat
    part : 0 for the dated cars alone, else 1

    Notes
    -----
    No wish can cost more than the whole cost leaves it when all others cost their
    least. Weights are never below 1.
    """
    ends: dict[int, int] = {}
    least = least_cost(wishes, soon)
    for wish in wishes.dated:
        spare = cost[0] - least[0] + wish.weight * _late(wish, _end(wish, soon))
        _lower(ends, wish, (wish.move_in or 0) + spare // wish.weight)
    if part:
        for wish in wishes.soon:
            spare = cost[1] - least[1]
            _lower(ends, wish, _end(wish, soon) + spare // wish.weight)
    return ends


def least_cost(wishes: Wishes, soon: Sequence[int]) -> Cost:
    """Return what no plan can cost less than, from lower bounds of the finishes."""
    late = sum(one.weight * _late(one, _end(one, soon)) for one in wishes.dated)
    whole = sum(one.weight * (_end(one, soon) - wishes.now) for one in wishes.soon)
    return late, whole, 0


def _end(wish: Wish, finishes: Sequence[int]) -> int:
    return max(finishes[number] for number in wish.ends)


def _late(wish: Wish, end: int) -> int:
    return max(0, end - (wish.move_in or 0))


def _lower(ends: dict[int, int], wish: Wish, latest: int) -> None:
    for number in wish.ends:
        ends[number] = min(ends.get(number, latest), latest)


def ask(
    network: Network,
    wishes: Wishes,
    found: dict[int, Choice],
    cost: Cost,
    part: int,
    following: Following | None = None,
) -> Question:
    """Return the question whether part `part` of a cost can be less, others kept."""
    model = build_model(network, found)
    add_limits(model, network)
    cp = model.cp
    late: Number = sum(_terms(model, wishes.dated))
    if part == 0:
        cp.add(late <= cost[0])
        cp.minimize(late)
        return Question(model, part)
    soon: Number = sum(_terms(model, wishes.soon)) - _now(wishes)
    if wishes.dated:
        cp.add(late <= cost[0])
    cp.add(soon <= cost[1])
    if part == 1:
        cp.minimize(soon)
    elif following:
        changed = sum(_changes(model, network, following))
        cp.add(changed <= cost[2])
        cp.minimize(changed)
    return Question(model, part)


def _now(wishes: Wishes) -> int:
    return sum(one.weight for one in wishes.soon) * wishes.now


def _terms(model: Model, wishes: Iterable[Wish]) -> list[Number]:
    terms: list[Number] = []
    for wish in wishes:
        ends = [model.nodes[number] for number in wish.ends]
        if wish.move_in is None and len(ends) == 1:
            terms.append(wish.weight * ends[0].finish)
            continue
        latest = max(one.choice.finish[1] for one in ends)
        by = wish.move_in or 0
        end = model.cp.new_int_var(0, max(latest - by, 0), "")
        for one in ends:
            model.cp.add(end >= one.finish - by)
        terms.append(wish.weight * end)
    return terms


def _changes(model: Model, network: Network, following: Following) -> list[Number]:
    terms: list[Number] = []
    for number, one in model.nodes.items():
        node = network.nodes[number]
        if node.begun or node.gone:
            continue
        for job in node.ids:
            if job not in following.start:
                continue
            moved = model.cp.new_int_var(0, 10**7, "")
            model.cp.add(moved >= one.start - following.start[job])
            model.cp.add(moved >= following.start[job] - one.start)
            terms.append(moved)
            who = sorted(following.who.get(job, ()))
            same = [lit for team, lit in one.teams.items() if sorted(team) == who]
            terms.append(OTHER_HANDS * (1 - sum(same)))
    return terms
