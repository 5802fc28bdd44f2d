"""The demo workshop's plan file: a plan that holds together."""

from __future__ import annotations

import csv
import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import networkx as nx
import pytest

from builds.demo import table
from builds.demo.plan import demo_plan
from scheduling.plan_file import read_plan, write_plan

PLAN = demo_plan()
JOBS = {job["id"]: job for job in PLAN["jobs"]}
DONE = {key for key, job in JOBS.items() if job.get("state") == "done"}
BUILDS = ("q114", "q109", "q121", "q116", "q118")


def of(build: str) -> list[dict]:
    return [job for job in PLAN["jobs"] if job["build"] == build]


def still_open(build: str) -> list[dict]:
    gone = ("done", "left out")
    return [job for job in of(build) if job.get("state", "open") not in gone]


def by_id(group: str) -> dict[str, dict]:
    return {one["id"]: one for one in PLAN[group]}


def test_it_follows_the_published_schema_of_the_plan_file():
    schema = json.loads(files("scheduling").joinpath("plan.schema.json").read_text())
    # The validator is the jsonschema library's, not ours.
    jsonschema.Draft202012Validator(schema).validate(PLAN)


def test_the_engine_finds_no_fault_with_it_and_gives_it_back_unchanged():
    plan = read_plan(PLAN)
    assert len(plan.jobs) == len(JOBS)
    assert read_plan(write_plan(plan)) == plan


def test_it_survives_json_and_is_the_same_every_time():
    assert json.loads(json.dumps(PLAN)) == PLAN == demo_plan()


def test_changing_one_copy_leaves_the_next_alone():
    copy = demo_plan()
    copy["builds"][0]["name"] = "changed"
    copy["jobs"][0]["title"] = "changed"
    assert demo_plan() == PLAN


def test_every_job_links_to_jobs_that_exist_and_never_in_a_loop():
    graph = nx.DiGraph(
        (before, job["id"]) for job in PLAN["jobs"] for before in job["after"]
    )
    assert len(JOBS) == len(PLAN["jobs"])
    assert set(graph) <= set(JOBS)
    assert nx.is_directed_acyclic_graph(graph)


@pytest.mark.parametrize("build", BUILDS)
def test_a_car_ends_in_one_last_job_that_waits_for_every_open_one(build):
    graph = nx.DiGraph((b, job["id"]) for job in of(build) for b in job["after"])
    ends = [job["id"] for job in still_open(build) if graph.out_degree(job["id"]) == 0]
    assert len(ends) == 1
    waits_for = nx.ancestors(graph, ends[0]) | set(ends)
    assert {job["id"] for job in still_open(build)} <= waits_for


def test_people_places_vendors_and_calendars_named_are_all_there():
    people, places, vendors = by_id("people"), by_id("places"), by_id("vendors")
    for job in PLAN["jobs"]:
        assert job.get("vendor") in {None, *vendors}
        assert job.get("person") in {None, *people}
        uses = [use if isinstance(use, str) else use["place"] for use in
                job.get("places", [])]  # fmt: skip
        assert set(uses) <= set(places)
        assert job["level"] in PLAN["levels"]
    for one in (*people.values(), *vendors.values()):
        assert one["calendar"] in PLAN["calendars"]


def test_somebody_in_the_shop_can_do_every_open_job():
    for job in (job for build in BUILDS for job in still_open(build)):
        if job["kind"] in ("bench", "check"):
            levels = [p["trades"].get(job["trade"], 0) for p in PLAN["people"]]
            assert max(levels) >= max(job["trade_level"], 2), job["id"]
            assert sum(level > 0 for level in levels) >= job["people"], job["id"]


def test_every_open_job_has_a_length():
    for build in BUILDS:
        for job in still_open(build):
            estimate = job["estimate"]
            assert estimate["likely"] > 0
            if not estimate.get("fixed"):
                assert 0 < estimate["low"] <= estimate["likely"] <= estimate["high"]
                assert estimate["low"] < estimate["high"]


def test_what_is_done_came_in_order_and_before_today():
    for key in DONE:
        job = JOBS[key]
        assert job["started"] < job["finished"] < PLAN["now"]
        for before in job["after"]:
            assert before in DONE, (key, before)
            assert JOBS[before]["finished"] < job["started"], (key, before)


def test_what_has_begun_had_everything_before_it_finished():
    for key, job in JOBS.items():
        began = job.get("sent") or job.get("started")
        if began and key not in DONE:
            assert set(job["after"]) <= DONE, key
            last = max(JOBS[before]["finished"] for before in job["after"])
            assert last[:10] < began[:10] <= PLAN["now"][:10], key


def test_all_rows_of_the_job_table_are_used():
    path = Path(table.__file__).with_name("jobs.csv")
    with path.open(encoding="utf-8", newline="") as lines:
        codes = {row["code"].lower() for row in csv.DictReader(lines)}
    assert len(codes) == 120
    assert codes <= {key.split("-")[1] for key in JOBS}


def test_the_table_keeps_its_hours_and_turns_days_into_the_plan_units():
    rows = {row.code: row for row in table.job_table()}
    assert (rows["C05"].low, rows["C05"].likely, rows["C05"].high) == (60, 110, 220)
    assert (rows["E10"].low, rows["E10"].likely, rows["E10"].high) == (20, 40, 120)
    # 10 working days at 5 a week are 14 calendar days; 5 are 7 days of 24 hours.
    assert (rows["E18"].kind, rows["E18"].likely) == ("decision", 14)
    assert (rows["F03"].kind, rows["F03"].likely) == ("stand", 168)
    in_house = [row for row in rows.values() if row.in_house]
    assert sum(row.likely for row in in_house) == 1535  # the table's own total


def test_each_car_has_five_to_eight_areas_and_every_job_one():
    for build in BUILDS:
        assert 5 <= len({job["area"] for job in of(build)}) <= 8
        assert all(job["area"] and job["phase"] for job in of(build))


def test_a_batch_is_one_vendors_and_only_of_work_not_yet_begun():
    for batch in PLAN["consignments"]:
        for key in batch["jobs"]:
            assert JOBS[key]["vendor"] == batch["vendor"]
            assert not JOBS[key].get("sent")
            assert key not in DONE
