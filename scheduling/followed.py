"""The plan people follow: read from an earlier answer, and made again in its order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from scheduling.network import Network, Node
from scheduling.shared_plan import SharedPlan, serial_plan
from scheduling.wishes import Following, whole


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
        {job: tuple(one.get("who") or ()) for job, one in jobs.items()},
        bool(told.get("keep", False)),
    )


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


def followed_plan(network: Network, following: Following) -> SharedPlan:
    """Return the plan with the order and the hands of the one followed.

    Notes
    -----
    Hands who could no longer do a job are not kept.
    """
    nodes = [_same_hands(node, following) for node in network.nodes]
    return serial_plan(replace(network, nodes=nodes), followed_keys(network, following))


def _same_hands(node: Node, following: Following) -> Node:
    who = {tuple(sorted(following.who.get(job, ()))) for job in node.ids}
    same = [team for team in node.work.teams if {tuple(sorted(team))} == who]
    if not same:
        return node
    works = tuple(replace(one, teams=(same[0],)) for one in node.works)
    return Node(works, node.release, node.before, node.after)
