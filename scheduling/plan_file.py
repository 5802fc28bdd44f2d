"""The plan file: reading one with every fault named, and writing one."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from scheduling.errors import Fault, PlanError
from scheduling.plan import Plan
from scheduling.plan_checks import check_plan
from scheduling.plan_parts import plan_from
from scheduling.plan_shape import MOST_JOBS, shape_faults
from scheduling.plan_text import at_most, read_document
from scheduling.plan_writing import document_of, job_text, text_of


def read_plan(source: str | bytes | Mapping[str, object]) -> Plan:
    """Return the plan a file holds.

    Parameters
    ----------
    source : str, bytes or mapping
        The text of a plan file (UTF-8, at most 20 MB and 20,000 jobs), or what
        JSON gives for it. Without a ``now`` the present local time of the plan's
        time zone counts, rounded up to the quarter-hour.

    Raises
    ------
    PlanError
        If anything is wrong. It lists every fault (200 at most, then how many
        more): first those of the text, else those of the shape, else those of the
        sense, because each can only be looked for once the one before it is right.

    References
    ----------
    RFC 8259 (JSON); JSON Schema draft 2020-12, in ``plan.schema.json``.

    Examples
    --------
    >>> plan = read_plan({"jobs": [{"id": "weld", "estimate": {"likely": 8}}]})
    >>> plan.jobs[0].estimate.likely
    8.0
    """
    document = read_document(source)
    faults = shape_faults(document)
    if faults:
        raise PlanError(at_most(faults))
    plan = plan_from(document)
    senseless = check_plan(plan)
    if senseless:
        raise PlanError(at_most(senseless))
    return plan


def plan_faults(plan: Plan, typed: Collection[str] | None = None) -> tuple[Fault, ...]:
    """Return everything for which `read_plan` would refuse what `write_plan` writes.

    Parameters
    ----------
    plan : Plan
        From anywhere; empty if it can be written to a file and read again.
    typed : collection of str, optional
        The ids of the jobs whose text is new; that of the others was found right
        before and is not looked at. All of them if left out.

    Notes
    -----
    After an edit all jobs but one are as they were, so a job whose text was once
    found right is not looked at again.
    """
    new = [job for job in plan.jobs if typed is None or job.id in typed]
    rest = json.dumps(write_plan(replace(plan, jobs=())))
    parts = [rest, *(f'{{"jobs": [{job_text(job)}]}}' for job in new)]
    if len(plan.jobs) <= MOST_JOBS and all(map(_in_shape, parts)):
        return at_most(check_plan(plan))
    try:
        read_plan(write_plan(plan))
    except PlanError as error:
        return error.faults
    return ()


@lru_cache(maxsize=MOST_JOBS)
def _in_shape(text: str) -> bool:
    try:
        return not shape_faults(read_document(text))
    except PlanError:
        return False


def write_plan(plan: Plan) -> dict[str, Any]:
    """Return a plan as plain JSON values that `read_plan` takes back unchanged.

    Parameters
    ----------
    plan : Plan
        Moments are written to the minute.

    Returns
    -------
    dict
        Only keys that differ from their defaults, in a fixed order, `id` first;
        links and places as bare ids where that says it all.
    """
    return document_of(plan)


def plan_text(plan: Plan) -> str:
    """Return a plan on one line, for telling plans apart; `read_plan` takes it, too."""
    return text_of(plan)


def dump_plan(plan: Plan) -> str:
    """Return a plan as the text of a plan file, one line break at the end."""
    return json.dumps(write_plan(plan), indent=1, ensure_ascii=False) + "\n"
