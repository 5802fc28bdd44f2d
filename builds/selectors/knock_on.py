"""What a job holds up, and the odds with it late or finished beside those of now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import networkx as nx
from django.urls import reverse

from builds.charts import HeldJob, knock_on
from builds.charts.knock_on import KnockOn
from builds.models import ConsignmentJob, Job, Link, LinkKind, State
from builds.selectors.answers import Facts, moment, newest, planned_of
from builds.selectors.bench import condition_of, held_jobs
from builds.selectors.job_numbers import title_of


@dataclass(frozen=True, slots=True)
class KnockOnPage:
    """The picture of what a job holds up."""

    job: Job
    title: str
    car: str
    car_url: str
    condition: str
    holds: int
    open: bool
    chart: KnockOn


def knock_on_page(job: Job) -> KnockOnPage:
    """Give what a job holds up, in the order it follows."""
    forecast = newest()
    answer: Facts = forecast.summary if forecast else {}
    jobs = Job.objects.exclude(state=State.DONE).select_related("build").in_bulk()
    jobs[job.pk] = job
    waits = _waits(jobs)
    is_open = job.state in (State.OPEN, State.UNDER_WAY)
    later = [jobs[pk] for pk in nx.descendants(waits, job.pk)] if is_open else []
    held = held_jobs([job, *later])
    planned = planned_of(forecast, [one.key for one in (job, *later)])

    def drawn(one: Job) -> HeldJob:
        facts = planned.get(one.key, {})
        return HeldJob(
            id=one.key,
            title=title_of(one),
            url=reverse("job", args=[one.key]),
            condition=condition_of(one, facts, held=one.pk in held),
            start=moment(facts.get("planned_start")) or one.started,
            finish=moment(facts.get("planned_finish")) or one.finished,
            after=tuple(jobs[pk].key for pk in waits.predecessors(one.pk)),
            thread=_thread(answer, one),
        )

    picked = drawn(job)
    return KnockOnPage(
        job=job,
        title=title_of(job),
        car=str(job.build or ""),
        car_url=reverse("car", args=[job.build.key]) if job.build else "",
        condition=picked.condition,
        holds=len(later),
        open=is_open,
        chart=knock_on(picked, [drawn(one) for one in later]),
    )


def _waits(jobs: Mapping[int, Job]) -> nx.DiGraph[int]:
    """Give what still waits for what; left-out jobs pass the order on."""
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(jobs)
    links = Link.objects.values_list("before_id", "job_id", "kind")
    for before, after, kind in links:
        here = before in jobs and after in jobs
        if here and (kind == LinkKind.BY or not _begun(jobs[after])):
            graph.add_edge(before, after)
    for pk, job in jobs.items():
        if job.state == State.LEFT_OUT or (job.build and job.build.left_out):
            around = list(graph.predecessors(pk)), list(graph.successors(pk))
            graph.remove_node(pk)
            graph.add_edges_from((a, b) for a in around[0] for b in around[1])
            graph.add_node(pk)
    _travel_together(graph, jobs)
    return graph


def _travel_together(graph: nx.DiGraph[int], jobs: Mapping[int, Job]) -> None:
    """Let what leaves for a vendor together wait and hold up together."""
    loads: dict[int, list[int]] = {}
    for load, pk in ConsignmentJob.objects.values_list("consignment_id", "job_id"):
        if pk in jobs and jobs[pk].state == State.OPEN and not _begun(jobs[pk]):
            loads.setdefault(load, []).append(pk)
    for members in loads.values():
        before = {a for pk in members for a in graph.predecessors(pk)}
        after = {b for pk in members for b in graph.successors(pk)}
        for pk in members:
            graph.add_edges_from((a, pk) for a in before.difference(members))
            graph.add_edges_from((pk, b) for b in after.difference(members))


def _begun(job: Job) -> bool:
    return job.state == State.UNDER_WAY or job.sent is not None


def _thread(answer: Facts, job: Job) -> int | None:
    """Give the place in the chain that sets the car's date, if it is in it."""
    key = job.build.key if job.build else ""
    chain = answer.get("builds", {}).get(key, {}).get("critical_path", ())
    return list(chain).index(job.key) if job.key in chain else None
