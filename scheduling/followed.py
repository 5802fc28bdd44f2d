"""The plan people follow: read from an earlier answer, and made again in its order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

import numpy as np

from scheduling.network import Network, Node
from scheduling.search.arrays import Problem, begins
from scheduling.search.booking import room_for
from scheduling.search.decoder import decode
from scheduling.search.read_back import plan_from
from scheduling.shared_plan import SharedPlan
from scheduling.wishes import Following, whole
from scheduling.work import SENT_KINDS, Team


def following_from(
    network: Network, told: Mapping[str, Any] | None
) -> Following | None:
    """Return the plan followed.

    Parameters
    ----------
    told : mapping, optional
        As `Answer.as_dict` gave it: `jobs` by id with `planned_start` and `who`; other
        keys are not read. With ``keep: True`` its order and hands are kept.
    """
    if told is None:
        return None
    quarter = network.clocks.timeline.quarter
    jobs = {
        job: facts
        for job, facts in told.get("jobs", {}).items()
        if facts.get("planned_start")
    }
    return Following(
        {
            job: whole(quarter(_moment(one["planned_start"])))
            for job, one in jobs.items()
        },
        {job: _people(network, job, one) for job, one in jobs.items()},
        bool(told.get("keep", False)),
    )


def _people(network: Network, job: str, facts: Mapping[str, Any]) -> Team:
    """Return who was to do a job; what a vendor does is in nobody's hands here."""
    known = network.jobs.get(job)
    if known is not None and known.kind in SENT_KINDS:
        return ()
    return tuple(facts.get("who") or ())


def _moment(told: str | datetime) -> datetime:
    return told if isinstance(told, datetime) else datetime.fromisoformat(told)


def followed_keys(network: Network, following: Following) -> list[float]:
    """Return the order of the plan followed; jobs not in it come after all others."""
    end = float(network.clocks.timeline.end)
    return [
        min((float(following.start[job]) for job in node.ids if job in following.start),
            default=end)
        for node in network.nodes
    ]  # fmt: skip


def followed_plan(
    network: Network, following: Following, problem: Problem, teams: Sequence[Team]
) -> SharedPlan:
    """Return the plan with the order and the hands of the one followed.

    Parameters
    ----------
    problem, teams
        As `problem_of` gives them.

    Notes
    -----
    Hands who could no longer do a job are not kept.
    """
    begin = problem.task.team_from.tolist()
    left = [
        _same_hands(node, following, range(first, last), teams)
        for node, first, last in zip(network.nodes, begin, begin[1:], strict=False)
    ]
    only = _with_teams(problem, left)
    placed, booked = room_for(only)
    decode(only, np.array(followed_keys(network, following)), placed, booked)
    return plan_from(network, placed, [teams[one] for found in left for one in found])


def _same_hands(
    node: Node, following: Following, numbers: Sequence[int], teams: Sequence[Team]
) -> Sequence[int]:
    """Return the numbers of a node's teams, only the one followed if it still can."""
    if not numbers or len(node.work.teams) == 1:
        return numbers
    who = {tuple(sorted(following.who.get(job, ()))) for job in node.ids}
    same = [team for team in node.work.teams if {tuple(sorted(team))} == who]
    if not same:
        return numbers
    return [number for number in numbers if teams[number] == same[0]]


def _with_teams(problem: Problem, left: Sequence[Sequence[int]]) -> Problem:
    """Return a problem in which every node has only those of its teams left."""
    kept = [number for found in left for number in found]
    begin = problem.team.member_from.tolist()
    members = [problem.member[begin[one] : begin[one + 1]] for one in kept]
    task, team = problem.task.copy(), problem.team[[*kept, -1]]
    task["team_from"] = begins([len(found) for found in left])
    team["member_from"] = begins([len(found) for found in members])
    member = np.concatenate([problem.member[:0], *members])
    return problem._replace(task=task, team=team, member=member)
