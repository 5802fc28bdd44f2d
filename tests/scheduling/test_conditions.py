"""The condition of a job and whom to ring: derived, never typed."""

from typing import Any

import pytest

import scheduling
from scheduling.conditions import CONDITIONS
from tests.scheduling.test_judge import MONDAY, hands, sent, workshop

SENT = {"sent": "2027-01-04"}


def answered(*jobs: dict[str, Any], **more: Any) -> dict[str, Any]:
    plan = workshop(jobs=list(jobs), consignments=[]) | more
    return scheduling.answer(scheduling.read_plan(plan), samples=5).as_dict()


def condition(job: dict[str, Any], *others: dict[str, Any], **more: Any) -> Any:
    return answered(*others, job, **more)["jobs"][job["id"]]


@pytest.mark.parametrize(
    ("job", "word"),
    [
        (hands("it", 2), "clear"),
        (hands("it", 2, after=["before"]), "waiting"),
        (hands("it", 2, not_before="2027-02-01T08:00"), "waiting"),
        (hands("it", 2, state="under way", started=MONDAY), "under way"),
        (hands("it", 2, state="left out"), "left out"),
        (sent("it", **SENT), "away"),
        (sent("it", **SENT, pieces=3, pieces_back=1), "part back"),
        (sent("it", **SENT, pieces=3, pieces_back=3), "back, to check"),
        (hands("it", 2, state="done", started=MONDAY, finished=MONDAY), "done"),
    ],
)
def test_every_condition_has_its_word(job: dict[str, Any], word: str) -> None:
    found = condition(job, hands("before", 1))
    assert found["condition"] == word
    assert word in CONDITIONS
    assert bool(found["reasons"]) or word in ("clear", "under way", "done", "left out")


def test_a_waiting_job_names_what_it_waits_for() -> None:
    found = condition(hands("it", 2, after=["before"]), hands("before", 1))
    assert found["waits_for"] == ["before"]


def test_a_left_out_job_is_no_reason_to_wait() -> None:
    found = condition(hands("it", 2, after=["x"]), hands("x", 1, state="left out"))
    assert found["condition"] == "clear"


@pytest.mark.parametrize(
    "before", [{}, {"state": "under way", "started": MONDAY}], ids=["open", "under way"]
)
def test_a_consignment_waits_for_the_piece_that_is_not_ready(before: Any) -> None:
    crate = [{"id": "c", "vendor": "plater", "jobs": ["it", "late"]}]
    others = hands("make", 8, **before), sent("late", after=["make"])
    found = condition(sent("it"), *others, consignments=crate)
    assert found["condition"] == "waiting"
    assert "make" in found["waits_for"]


def calls(job: dict[str, Any]) -> list[str]:
    return [call["kind"] for call in answered(job)["ring"]]


@pytest.mark.parametrize(
    ("more", "kinds"),
    [
        ({**SENT, "promised": "2027-01-08"}, ["overdue"]),
        ({**SENT, "promised": "2027-01-11"}, ["today"]),
        ({**SENT, "promised": "2027-01-15"}, ["this week"]),
        ({**SENT, "promised": "2027-03-01"}, []),
        (SENT, ["no date"]),
        ({**SENT, "pieces": 4, "pieces_noted": 3}, ["count", "no date"]),
        ({}, ["slot"]),
        ({"slot": False}, []),
    ],
)
def test_who_to_ring_and_why(more: dict[str, Any], kinds: list[str]) -> None:
    assert calls(sent("it", **more)) == kinds
