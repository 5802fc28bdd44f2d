"""Named pieces add up to the counts of their job, and go through a file unchanged."""

from __future__ import annotations

from typing import Any

import pytest

import scheduling


def job(*pieces: dict[str, Any], **facts: Any) -> dict[str, Any]:
    return {
        "id": "plate", "kind": "outside", "estimate": {"likely": 5},
        "piece_list": list(pieces), **facts,
    }  # fmt: skip


def iron(key: str, count: int = 1, **facts: Any) -> dict[str, Any]:
    return {"id": key, "count": count, "holder": "Petra", "place": "rack", **facts}


def faults(*jobs: dict[str, Any]) -> list[str]:
    with pytest.raises(scheduling.PlanError) as error:
        scheduling.read_plan({"jobs": list(jobs)})
    return [f"{one.where} {one.what}" for one in error.value.faults]


def test_eleven_named_where_twelve_are_counted() -> None:
    (words,) = faults(job(iron("a", 11), pieces=12))
    assert words == 'jobs[0] "plate".pieces is 12, but the pieces named add up to 11'


def test_a_list_without_a_count_is_a_fault() -> None:
    (words,) = faults(job(iron("a")))
    assert "is nothing, but the pieces named add up to 1" in words


def test_what_is_back_is_counted_too() -> None:
    (words,) = faults(job(iron("a", 3, state="back"), iron("b"), pieces=4))
    assert "is 0, but 3 of the pieces named are back" in words


def test_a_piece_is_in_one_place_only() -> None:
    other = job(iron("a"), pieces=1) | {"id": "zinc"}
    (words,) = faults(job(iron("a"), pieces=1), other)
    assert 'jobs[1] "zinc".piece_list[0] has the same id as jobs[0] "plate"' in words


@pytest.mark.parametrize(
    "wrong", [{"holder": ""}, {"place": ""}, {"count": 0}, {"state": "adrift"}]
)
def test_without_a_holder_or_a_place_it_is_no_piece(wrong: dict[str, Any]) -> None:
    (words,) = faults(job(iron("a") | wrong, pieces=1))
    assert f"piece_list[0].{next(iter(wrong))}" in words


def test_a_trail_goes_through_the_file_as_it_is() -> None:
    trail = [
        {"at": "2027-01-04T08:00", "holder": "Petra", "place": "rack", "state": "here"},
        {
            "at": "2027-01-05T15:30", "holder": "Hartcombe", "place": "their works",
            "state": "out", "count": 2, "signed": "Tomos", "note": "wrapped",
        },
    ]  # fmt: skip
    piece = iron("a", 2, name="Hinges", state="out", trail=trail)
    jobs = [job(piece, pieces=2, sent="2027-01-05")]
    plan = scheduling.read_plan({"now": "2027-01-11T08:00", "jobs": jobs})
    written = scheduling.write_plan(plan)["jobs"][0]["piece_list"]
    assert written == [piece]
    assert scheduling.read_plan(scheduling.write_plan(plan)) == plan
