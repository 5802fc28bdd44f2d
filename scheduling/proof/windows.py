"""Makes a large plan better a stretch at a time.

    |--- order kept ---|======= all open =======|--- order kept ---|

Inside the window everything is open: who, when, in which order. Outside, people and
order stay as they are and only the times move, not far. Windows lie anywhere; when
one finds nothing the next is looked at.
"""

from __future__ import annotations

import random
import time
from collections.abc import Iterator, Mapping
from itertools import count

from scheduling.network import Network
from scheduling.proof.order import hand_overs
from scheduling.proof.ranges import Near, choices
from scheduling.proof.reading import read, tidied
from scheduling.proof.solving import Effort, solve
from scheduling.proof.stages import ask, latest_ends
from scheduling.proof.task import Task
from scheduling.soonest import frozen, instant
from scheduling.timeline import PER_WEEK
from scheduling.wishes import whole

OPEN = 40  # nodes in a window
SHARE = 8  # no window takes more than one in so many parts of the time
LEAST = 0.25  # seconds, though: less is not worth the building
FAR, NEAR = 2 * PER_WEEK, PER_WEEK // 2


def by_windows(task: Task, part: int, ends: float, effort: Effort) -> None:
    """Improve one part of a plan's cost until a moment of the monotonic clock.

    Notes
    -----
    Repeatable effort counts windows, and the solver's work, instead of time.
    """
    dice = random.Random(effort.seed)
    most = max((ends - time.monotonic()) / SHARE, LEAST)
    for turn, window in enumerate(_windows(task, dice)):
        left = most * (SHARE - turn) if effort.repeatable else ends - time.monotonic()
        stopped = effort.stop is not None and effort.stop()
        if left <= 0 or stopped or task.cost(task.best)[part] <= task.bound[part]:
            return
        _improve(task, part, window, min(left, most), effort)


def _windows(task: Task, dice: random.Random) -> Iterator[frozenset[int]]:
    """Yield windows of neighbouring nodes, from the end first, then anywhere."""
    nodes = open_nodes(task.network)
    width = min(OPEN, len(nodes))
    steps = len(nodes) - width
    for turn in count():
        back = turn * width // 2
        at = steps - back if back <= steps else dice.randint(0, steps)
        order = sorted(nodes, key=lambda one: (task.best.start[one], one))
        yield frozenset(order[at : at + width])


def open_nodes(network: Network) -> list[int]:
    """Return the nodes whose time is still open."""
    return [
        number
        for number, node in enumerate(network.nodes)
        if not instant(node) and not frozen(node)
    ]


def _improve(
    task: Task, part: int, window: frozenset[int], seconds: float, effort: Effort
) -> None:
    network, best, cost = task.network, task.best, task.cost(task.best)
    latest = latest_ends(task.wishes, task.soon[1], cost, part)
    near = _near(task, window)
    found = choices(network, best, task.soon, latest, near)
    question = ask(network, task.wishes, found, cost, part, task.following)
    nodes = question.model.nodes
    rest = [number for number in found if number not in window]
    for before, after in hand_overs(network, best, rest):
        question.model.cp.add(nodes[after].start >= nodes[before].finish)
    question.model.hint(best)
    answer = solve(question.model.cp, seconds, effort, quick=True)
    if answer.any:
        plan = read(network, question.model, answer, best)
        task.keep(tidied(network, question.model, plan, task.cost))


def _near(task: Task, window: frozenset[int]) -> Mapping[int, Near]:
    near: dict[int, Near] = {}
    for number in range(len(task.network.nodes)):
        start, finish = whole(task.best.start[number]), whole(task.best.finish[number])
        inside = number in window
        reach = FAR if inside else NEAR
        team = None if inside else task.best.team[number]
        near[number] = Near(start - reach, start + reach, finish + 2 * reach, team)
    return near
