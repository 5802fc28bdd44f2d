"""What an arc asks for, as constraints on whole quarters."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from ortools.sat.python import cp_model

from scheduling.network import Arc, Network, Node
from scheduling.passes import asks, waited
from scheduling.proof.ranges import Stretch
from scheduling.proof.ways import Quarters, runs_between
from scheduling.wishes import whole

Number = cp_model.IntVar | cp_model.LinearExpr | int
Literal = cp_model.IntVar | int


def asked_start(
    model: cp_model.CpModel,
    network: Network,
    node: Node,
    arc: Arc,
    before: tuple[Number, Number, Stretch],
    start: Number,
) -> None:
    """Hold the start of `node` for the node before an arc.

    Parameters
    ----------
    before : its start, its finish, and the range of the one the arc counts from
    """
    since = before[0] if arc.kind == "with" else before[1]
    if arc.kind != "by" and not arc.wait_days:
        model.add(start >= since + whole(arc.wait))
        return

    def ask(moment: int) -> int:
        return whole(asks(network, node, arc, float(moment), float(moment)))

    at_least(model, since, before[2], ask, start)


def asked_finish(
    model: cp_model.CpModel, network: Network, arc: Arc, since: Number,
    span: Stretch, finish: Number,
) -> None:  # fmt: skip
    """Hold the finish of a node for the node before a link to its finish."""
    if not arc.wait_days:
        model.add(finish >= since + whole(arc.wait))
        return

    def reached(moment: int) -> int:
        return whole(waited(network, float(moment), arc))

    at_least(model, since, span, reached, finish)


def at_least(
    model: cp_model.CpModel, since: Number, span: Stretch, ask: Callable[[int], int],
    until: Number,
) -> None:  # fmt: skip
    """Add `until >= ask(since)` for a function that never falls.

    Notes
    -----
    `since` is first moved to the end of a stretch over which the function stands
    still (a night, say); what is left are runs in which it only adds a length.
    """
    if isinstance(since, int):
        model.add(until >= ask(since))
        return
    moments = np.arange(span[0], span[1] + 1, dtype=np.int64)
    values = np.array([ask(int(one)) for one in moments], dtype=np.int64)
    steps = np.append(np.diff(values) > 0, True)
    moments, values = moments[steps], values[steps]
    runs = runs_between(moments, values)
    if len(runs) == 1:
        base = since if bool(steps.all()) else _moved(model, since, moments)
        model.add(until >= base + runs[0].length)
        return
    moved = _moved(model, since, moments)
    chosen = []
    for run in runs:
        here = model.new_bool_var("")
        model.add_linear_constraint(moved, run.first, run.last).only_enforce_if(here)
        model.add(until >= moved + run.length).only_enforce_if(here)
        chosen.append(here)
    model.add_exactly_one(chosen)


def _moved(
    model: cp_model.CpModel, since: Number, moments: Quarters
) -> cp_model.IntVar:
    domain = cp_model.Domain.from_values(moments.tolist())
    moved = model.new_int_var_from_domain(domain, "")
    model.add(moved >= since)
    return moved
