"""Proves a shared plan the best there is, makes it better, or says how near it is."""

from __future__ import annotations

import time

from scheduling.network import Network
from scheduling.proof.ranges import NoWay, choices
from scheduling.proof.reading import read, tidied
from scheduling.proof.solving import Effort, Found, solve
from scheduling.proof.stages import ask, latest_ends, least_cost
from scheduling.proof.task import Proof, Task
from scheduling.proof.ways import BeyondTables
from scheduling.proof.windows import by_windows, open_nodes
from scheduling.shared_plan import SharedPlan
from scheduling.soonest import soonest
from scheduling.wishes import Cost, Following, Wishes

WHOLE = 60  # open jobs up to which the whole plan is asked about at once


def prove_plan(
    network: Network,
    shared: SharedPlan,
    wishes: Wishes,
    following: Following | None,
    seconds: float,
    effort: Effort,
) -> Proof:
    """Return the better plan and how sure it is; see `scheduling.proof.prove`."""
    ends = time.monotonic() + seconds
    task = Task(network, wishes, following, ([], []), shared, (0, 0, 0))
    first = task.cost(shared)
    try:
        task.soon = soonest(network, shared)
        task.bound = _known(least_cost(wishes, task.soon[1]), shared.bound)
        _in_turn(task, ends, effort)
    except (NoWay, BeyondTables):
        pass  # a plan with something that cannot be, or further off than calendars go
    cost = task.cost(task.best)
    return Proof(task.best, cost, task.bound, cost < first)


def _known(one: Cost, other: Cost) -> Cost:
    """Return what two bounds say together, part by part."""
    return max(one[0], other[0]), max(one[1], other[1]), 0


def _in_turn(task: Task, ends: float, effort: Effort) -> None:
    for part in range(3 if task.following else 2):
        now = time.monotonic()
        if now >= ends or (effort.stop and effort.stop()):
            return
        until = ends if part else (now + ends) / 2  # dates of shows, but not for ever
        if len(open_nodes(task.network)) > WHOLE:
            by_windows(task, part, until, effort)
        else:
            settle(task, part, until, effort)


def settle(task: Task, part: int, until: float, effort: Effort) -> None:
    """Try to make one part of the cost less, those before it kept."""
    cost = task.cost(task.best)
    if part < 2 and cost[part] <= task.bound[part]:
        return
    seconds = until - time.monotonic()
    latest = latest_ends(task.wishes, task.soon[1], cost, part)
    found = choices(task.network, task.best, task.soon, latest)
    question = ask(task.network, task.wishes, found, cost, part, task.following)
    question.model.hint(task.best)
    if not effort.repeatable:
        seconds = until - time.monotonic()
    answer = solve(question.model.cp, seconds, effort)
    if answer.any:
        plan = read(task.network, question.model, answer, task.best)
        if part < 2:
            plan = tidied(task.network, question.model, plan, task.cost)
        task.keep(plan)
    _learn(task, part, answer)


def _learn(task: Task, part: int, answer: Found) -> None:
    if answer.impossible:
        return  # what the given plan does is outside the model: nothing is proved
    bound = list(task.bound)
    known = min(answer.bound, task.cost(task.best)[part])
    bound[part] = max(bound[part], known)
    task.bound = (bound[0], bound[1], bound[2])
