"""The story of the demo workshop is true in its data; facts written by hand."""

from __future__ import annotations

import json
import re
from datetime import datetime

from builds.demo.plan import demo_plan

PLAN = demo_plan()
JOBS = {job["id"]: job for job in PLAN["jobs"]}
DONE = {key for key, job in JOBS.items() if job.get("state") == "done"}


def of(build: str) -> list[dict]:
    return [job for job in PLAN["jobs"] if job["build"] == build]


def still_open(build: str) -> list[dict]:
    gone = ("done", "left out")
    return [job for job in of(build) if job.get("state", "open") not in gone]


def by_id(group: str) -> dict[str, dict]:
    return {one["id"]: one for one in PLAN[group]}


def test_the_morning_of_the_demo():
    assert PLAN["now"] == "2027-01-11T08:00"
    assert datetime.fromisoformat(PLAN["now"]).strftime("%A") == "Monday"
    assert PLAN["timezone"] == "Europe/London"
    assert (PLAN["reading"], PLAN["samples"]) == ("one-in-ten", 10_000)


def test_the_shows_and_who_goes():
    shows = by_id("shows")
    entries = {
        key: {entry["build"]: entry["level"] for entry in show["entries"]}
        for key, show in shows.items()
    }
    assert shows["fennimore"]["move_in"] == "2027-06-11T16:00"
    assert shows["saltmere"]["move_in"] == "2027-07-02T16:00"
    assert entries == {
        "fennimore": {"q114": "complete", "q109": "complete"},
        "saltmere": {"q109": "complete"},
    }
    for show in shows.values():
        moved_in = datetime.fromisoformat(show["move_in"])
        assert moved_in.strftime("%A") == "Friday"


def test_where_each_car_stands():
    assert len(still_open("q114")) == 60
    assert {"q109-f07", "q109-g04", "q109-h07"} <= DONE  # painted, on wheels, engine in
    assert "q109-x02" in DONE  # windscreen frame trial fitted
    assert "q109-k06" not in JOBS  # an open car has no headlining
    assert {"q118-c02"} <= DONE
    assert JOBS["q118-x01"]["found"] == "asked"
    assert JOBS["q118-c03"]["started"][:10] == "2026-12-18"
    assert {"q121-j01", "q121-l02"} <= DONE  # brake lines in, runs
    assert JOBS["q116-m02"]["needed_by"] == "2027-08-31"
    assert JOBS["q121-m02"]["needed_by"] == "2027-04-23"
    assert sum(job.get("snag", False) for job in of("q121")) == 11


def test_where_q114_stands():
    assert JOBS["q114-f02"]["state"] == "under way"
    assert JOBS["q114-f02"]["vendor"] == "larkhollow"
    assert "high-build" in JOBS["q114-f02"]["note"]
    assert JOBS["q114-e18"]["kind"] == "decision"
    assert "q114-e18" not in DONE  # the leather is not chosen
    assert JOBS["q114-x02"]["kind"] == "check"
    assert JOBS["q114-x03"]["after"] == ["q114-x02"]
    assert JOBS["q114-x03"]["commitment"]
    assert JOBS["q114-x04"]["after"] == ["q114-x03"]


def test_seven_things_are_out_with_their_counts_and_holders():
    out = {
        key: (job["vendor"], job["pieces"], job["sent"], job.get("promised"))
        for key, job in JOBS.items()
        if job.get("sent") and key not in DONE
    }
    assert out == {
        "q114-e10": ("orrelstane", 14, "2026-12-04", "2027-01-29"),
        "q114-e04": ("sallowfield", 9, "2027-01-07", None),
        "q114-e17": ("tarn", 3, "2026-11-09", None),
        "q114-i03": ("wexcote", 3, "2026-12-30", None),
        "q109-e10": ("orrelstane", 22, "2026-12-16", None),
        "q116-x02": ("dunnock", 1, "2026-12-02", "2027-01-15"),
        "q114-h03": ("kellwen", 1, "2026-12-14", None),
    }
    vendors = by_id("vendors")
    for key in out:
        assert JOBS[key]["holder"] == vendors[JOBS[key]["vendor"]]["name"]
    assert JOBS["q109-e10"]["pieces_noted"] == 21  # one fewer than we sent


def test_things_made_with_care_are_marked():
    assert all(JOBS[f"q114-{code}"]["commitment"] for code in ("f04", "e10", "e04"))
    safety = ("j01", "j02", "j04", "l06", "l07", "l08", "k10", "g01")
    assert all(JOBS[f"q114-{code}"]["safety"] for code in safety)
    assert JOBS["q114-k07"]["unbroken"]
    assert not JOBS["q114-j04"].get("unbroken", False)
    assert JOBS["q114-l02"]["people"] == 2
    assert JOBS["q114-f04"]["slot"] is False  # the shell is there already


def test_no_text_calls_anything_safe_legal_or_tested():
    words = " ".join(
        str(value) for group in ("jobs", "builds", "vendors", "people", "shows")
        for one in PLAN[group] for value in one.values() if isinstance(value, str)
    )  # fmt: skip
    claim = r"\b(safe|safely|legal|legally|tested|certified|roadworthy)\b"
    assert re.findall(claim, words.replace("Road-legality", "")) == []


def test_telephone_numbers_are_those_set_aside_for_drama():
    # Ofcom sets 01632 960000 to 960999 aside for drama (from memory).
    phones = [one["phone"] for one in PLAN["vendors"]]
    assert all(re.fullmatch(r"01632 960\d{3}", phone) for phone in phones)
    assert len(set(phones)) == len(phones) == 16


def test_no_real_marque_is_named():
    # Marques a reader may know; a list from memory, not a trade-mark search.
    marques = (
        r"\b(alfa|austin|bentley|bmw|bugatti|chevrolet|citroen|ferrari|fiat|ford"
        r"|jaguar|lamborghini|lancia|lotus|maserati|mercedes|morgan|morris|peugeot"
        r"|porsche|renault|rover|saab|toyota|triumph|vauxhall|volkswagen|volvo)\b"
    )
    assert re.findall(marques, json.dumps(PLAN).lower()) == []
