"""An invented life keeps the rules of the workshop, and the known law of one job."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta
from itertools import pairwise
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

import scheduling
from tests.scheduling.calibration.forecasts import Forecaster
from tests.scheduling.calibration.hours import Opening
from tests.scheduling.calibration.invent import FIRST_DAY, SHOP, invent
from tests.scheduling.calibration.life import Life
from tests.scheduling.calibration.truth import Truth, draw_truth

Row = dict[str, Any]

FIRST = date(2027, 1, 11)
LIVES = 200


class Watched(Forecaster):
    """Keeps every file the workshop wrote and every answer it got."""

    def __init__(self) -> None:
        super().__init__({"as it is": {}}, samples=50)
        self.seen: list[tuple[Row, Row]] = []

    def ask(self, document: Row, morning: int) -> Row:
        told = super().ask(document, morning)
        self.seen.append((document, told))
        return told


@pytest.fixture(scope="module")
def lived() -> tuple[Life, Watched]:
    """Return one life of a small workshop: the first car of an invented one."""
    document = invent(5)
    car = document["builds"][0]["id"]
    document["builds"] = document["builds"][:1]
    document["jobs"] = [job for job in document["jobs"] if job["build"] == car]
    document["shows"] = document["shows"][:1]
    names = {job["id"] for job in document["jobs"]}
    document["consignments"] = [
        one for one in document["consignments"] if names.issuperset(one["jobs"])
    ]
    watched = Watched()
    life = Life(document, draw_truth(document, 5), watched.ask)
    life.run()
    return life, watched


def test_nobody_works_out_of_hours_or_on_two_jobs(lived: tuple[Life, Watched]) -> None:
    life, _ = lived
    for person, opening in life.people.items():
        mine = sorted((a, b) for _, team, a, b in life.worked if person in team)
        assert all(end <= begin for (_, end), (begin, _) in pairwise(mine))
        for begin, end in mine:
            until = opening.open_until(begin)
            assert until is not None
            assert end <= until + 1e-6


def test_all_hours_of_a_job_are_worked(lived: tuple[Life, Watched]) -> None:
    life, _ = lived
    paces = {one["id"]: one.get("pace", {}) for one in life.document["people"]}
    for name, one in life.ledger.jobs.items():
        if one.hands:
            spent = sum(b - a for job, _, a, b in life.worked if job == name)
            pace = max(paces[who].get(one.row["trade"], 1.0) for who in one.team)
            true = 60.0 * sum(it.length for it in life.truth.rounds[name])
            assert spent == pytest.approx(true * pace, abs=1e-3)


def test_work_is_done_by_people_who_may(lived: tuple[Life, Watched]) -> None:
    life, _ = lived
    trades = {one["id"]: one["trades"] for one in life.document["people"]}
    for one in life.ledger.jobs.values():
        if one.hands:
            need = max(one.row.get("trade_level", 2), 2)
            assert trades[one.team[0]].get(one.row["trade"], 0) >= need
            assert len(one.team) == one.row.get("people", 1)


def test_nothing_starts_before_what_it_waits_for(lived: tuple[Life, Watched]) -> None:
    life, _ = lived
    for name, one in life.ledger.jobs.items():
        ready = life.ledger.ready_at(name)
        assert one.started is not None
        assert ready is not None
        assert one.started >= ready or one.turn > 1  # sent a second time


def test_places_are_never_over_full(lived: tuple[Life, Watched]) -> None:
    life, _ = lived
    room = {one["id"]: one["capacity"] for one in life.document["places"]}
    for place, capacity in room.items():
        stays = [
            (one.started or 0.0, one.finished or 0.0)
            for one in life.ledger.jobs.values()
            if place in one.row.get("places", ())
        ]
        for begin, _ in stays:
            inside = sum(a <= begin < b for a, b in stays)
            assert inside <= capacity


def test_slots_are_taken_once_and_on_their_days(lived: tuple[Life, Watched]) -> None:
    life, _ = lived
    days = [
        int(one.sent // 1440)
        for one in life.ledger.jobs.values()
        if one.row.get("vendor") == "vendor3" and one.sent is not None and one.turn < 2
    ]
    assert len(days) == len(set(days))
    rule = life.document["vendors"][3]["slots"]
    begin = (date.fromisoformat(rule["from"]) - FIRST_DAY).days
    working = [day for day, _ in life.vendors["vendor3"].days if day >= begin]
    assert set(days) <= set(working[::5])


def test_mornings_follow_one_another_and_nobody_peeks(
    lived: tuple[Life, Watched],
) -> None:
    """The file holds no truth and no moment later than its own."""
    _, watched = lived
    nows = [document["now"] for document, _ in watched.seen]
    assert nows == sorted(set(nows))
    assert {now[10:] for now in nows} == {"T08:00"}
    for document, _ in watched.seen:
        assert not any("true" in vendor for vendor in document["vendors"])
        for job in document["jobs"]:
            assert job.get("finished", "") <= document["now"]
            assert job.get("sent", "") <= document["now"][:10]
            assert "remaining" not in job


def test_people_take_the_first_clear_job_of_their_bench_list(
    lived: tuple[Life, Watched],
) -> None:
    """Where the first thing listed can begin at eight, it does."""
    life, watched = lived
    begun = 0
    for document, told in watched.seen:
        now = life.diary.minutes(document["now"])
        for listed in told["today"].values():
            if not listed or told["jobs"][listed[0]]["condition"] != "clear":
                continue
            if told["jobs"][listed[0]]["planned_start"] == document["now"]:
                begun += 1
                assert life.ledger.jobs[listed[0]].started == now
    assert begun


def test_working_days_agree_with_numpy() -> None:
    """numpy.busday_offset on the same week and closed days."""
    closed = ["2027-03-26/2027-03-29", "2027-05-03"]
    shop = Opening(FIRST, {"week": SHOP, "closed": closed}, [])
    shut = ["2027-03-26", "2027-03-27", "2027-03-28", "2027-03-29", "2027-05-03"]
    for day in range(0, 90, 3):
        begin = np.busday_offset(FIRST, day, holidays=shut)
        number = int((begin - np.datetime64(FIRST)).astype(int))
        later = np.busday_offset(begin, 7, holidays=shut)
        opens = 1440.0 * number + 480.0
        # seven whole days from opening end with the seventh of them
        assert np.datetime64(FIRST) + int(
            shop.after_days(opens, 7.0) // 1440
        ) == np.busday_offset(begin, 6, holidays=shut)
        assert np.datetime64(FIRST) + shop.day_after(opens, 7) == later


def _one_stand() -> Row:
    """Return a plan of one job that dries: lognormal, nothing shared, nobody needed."""
    estimate = {"low": 100, "likely": 200, "high": 400}
    job = {"id": "dry", "build": "car", "kind": "stand", "estimate": estimate}
    return {
        "now": "2027-01-11T08:00",
        "levels": ["complete"],
        "calendars": {"shop": {"week": SHOP}},
        "people": [],
        "places": [],
        "vendors": [],
        "builds": [{"id": "car"}],
        "shows": [],
        "jobs": [job | {"level": "complete", "after": []}],
        "consignments": [],
    }


def _planned(document: Row, morning: int) -> Row:
    return {"jobs": {"dry": {"planned_start": document["now"], "who": []}}, "today": {}}


def test_one_lognormal_job_is_foretold_and_happens_as_its_law_says() -> None:
    """P(length <= t) of a lognormal through 100 and 400 hours, from the normal law."""
    document = _one_stand()
    law = NormalDist(math.log(200.0), math.log(4.0) / (2 * 1.2815515655446004))
    lengths = []
    for seed in range(LIVES):
        life = Life(document, draw_truth(document, seed), _planned)
        reached = life.run().reached("car", ["complete"])
        assert reached is not None
        lengths.append((reached - 480.0) / 60.0)
    answer = scheduling.answer(scheduling.read_plan(document), samples=4000)
    found = answer.found
    for hours in (120.0, 200.0, 300.0):
        exact = law.cdf(math.log(hours))
        by = datetime(2027, 1, 11, 8) + timedelta(hours=hours)
        quarter = found.network.clocks.timeline.quarter(by)
        told = found.odds.chance(("car", "complete"), quarter)
        happened = sum(length <= hours for length in lengths) / LIVES
        error = math.sqrt(exact * (1.0 - exact))
        assert abs(told - exact) < 3.5 * error / math.sqrt(4000)
        assert abs(happened - exact) < 3.5 * error / math.sqrt(LIVES)


def test_a_quote_and_what_comes_of_it_make_the_estimates_law() -> None:
    """Vendor lengths: median and spread over many lives as the estimate and factors."""
    document = invent(7)
    vendor = next(one for one in document["vendors"] if one["true"]["promises"])
    vendor["reject_chance"] = 0.0
    estimate = {"low": 8.0, "likely": 14.0, "high": 40.0}
    job = {"id": "plate", "build": "car0", "kind": "outside", "vendor": vendor["id"]}
    document["jobs"] = [job | {"estimate": estimate}]
    document["vendors"] = [vendor | {"history": []}]
    logs = []
    for seed in range(4000):
        # a new vendor each time: its habit is part of what nobody knows
        gauss = NormalDist(math.log(1.15), 0.4 / 2).samples(1, seed=seed)[0]
        document["vendors"][0]["true"] = {
            "median": math.exp(gauss), "spread": 0.4025, "promises": True,
        }  # fmt: skip
        truth: Truth = draw_truth(document, seed)
        logs.append(math.log(truth.rounds["plate"][0].length))
    centre = (math.log(8) + math.log(40)) / 2
    own = (math.log(40) - math.log(8)) / (2 * 1.2815515655446004)
    spread = math.sqrt(own**2 + 0.25**2 + 0.12**2)
    assert abs(float(np.mean(logs)) - centre) < 4 * spread / math.sqrt(4000)
    assert float(np.std(logs)) == pytest.approx(spread, rel=0.05)
