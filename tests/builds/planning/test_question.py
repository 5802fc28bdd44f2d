"""When two questions are the same."""

from unittest import mock

import pytest

import scheduling
from builds.demo.plan import demo_plan
from builds.planning import engine
from builds.planning.engine import digest
from builds.planning.exchange import export_plan
from builds.planning.question import read_question
from builds.planning.warm import warm, warm_soon
from tests.factories.job import OutsideJobFactory
from tests.factories.piece import PieceFactory

ROWS = {
    "now": "2027-01-11T08:00",
    "jobs": [{"id": "weld", "estimate": {"likely": 4}}],
}
OPTIONS = {"schedules": 4, "samples": 100}


@pytest.fixture
def plan():
    return scheduling.read_plan(ROWS)


def test_the_same_plan_written_otherwise_is_the_same(plan):
    spelled_out = {
        "jobs": [{"state": "open", "estimate": {"likely": 4.0}, "id": "weld"}],
        "samples": plan.samples,
        "now": "2027-01-11T08:00",
    }
    assert digest(plan, OPTIONS) == digest(scheduling.read_plan(spelled_out), OPTIONS)


def test_another_plan_effort_or_engine_is_another(plan):
    first = digest(plan, OPTIONS)
    later = scheduling.read_plan(ROWS | {"now": "2027-01-11T08:15"})
    assert digest(later, OPTIONS) != first
    assert digest(plan, OPTIONS | {"schedules": 5}) != first
    with mock.patch.object(engine, "engine_print", return_value="a newer one"):
        assert digest(plan, OPTIONS) != first


def test_warming_needs_no_database_and_can_be_done_aside():
    """Without the `db` mark, pytest-django refuses every query."""
    assert warm() > 0
    thread = warm_soon()
    thread.join(60)
    assert not thread.is_alive()


def test_a_failure_to_warm_stops_nothing(caplog):
    with mock.patch.object(scheduling, "answer", side_effect=MemoryError("too big")):
        warm_soon().join(60)
    assert "could not be warmed" in caplog.text


def test_the_plan_that_warms_uses_all_that_is_compiled():
    plan = scheduling.read_plan(demo_plan())
    assert plan.shows
    assert plan.consignments
    assert any(vendor.slots for vendor in plan.vendors)
    assert any(job.unbroken for job in plan.jobs)


def test_where_a_piece_has_been_asks_nothing_new(shop):
    """The trail grows for years; it is in the plan file, and changes no date."""
    piece = PieceFactory(key="iron", job=OutsideJobFactory(pieces=1))
    before = read_question().digest
    piece.trail.create(
        at="2027-01-04T08:00", holder="Petra", place="stores", state="here"
    )
    assert read_question().digest == before
    assert "Petra" in export_plan()
