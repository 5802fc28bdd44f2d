"""What the lead says of the order reaches the engine, and makes another question."""

import pytest

from builds.actions.plan import follow_new_plan, keep_old_order
from builds.models import Forecast
from builds.planning import preview, replan
from tests.factories.job import JobFactory


@pytest.fixture
def asked(monkeypatch):
    """Hear what plan the engine is told to follow."""
    heard = []
    for room in (replan, preview):
        real = room.ask

        def ask(plan, *, _real=real, **options):
            heard.append(options["following"])
            return _real(plan, **options)

        monkeypatch.setattr(room, "ask", ask)
    return heard


@pytest.fixture
def plan(tom, car):
    for key in ("sill", "floor"):
        JobFactory(key=key, build=car, trade="panel")
    return replan.replan()


def answer(forecast):
    """Give what the engine reads of an answer: when each open job was, and whose."""
    return {
        key: {name: facts[name] for name in ("planned_start", "who")}
        for key, facts in forecast.answer["jobs"].items()
        if facts["planned_start"] and facts["condition"] != "done"
    }


def test_the_newest_plan_is_followed_where_nobody_says_otherwise(plan, asked):
    JobFactory(key="roof", trade="panel")
    replan.replan()
    preview.preview()
    newest = Forecast.objects.latest_done()
    assert asked == [
        {"jobs": answer(plan), "keep": False},
        {"jobs": answer(newest), "keep": False},
    ]


def test_a_kept_order_is_told_as_kept_to_forecast_and_what_if(lena, plan, asked):
    JobFactory(key="roof", trade="panel")
    replan.replan()
    keep_old_order(by=lena)
    asked.clear()
    replan.replan()
    preview.preview()
    assert asked == [{"jobs": answer(plan), "keep": True}] * 2


def test_the_same_plan_in_another_order_is_another_question(lena, plan):
    JobFactory(key="roof", trade="panel")
    second = replan.replan()
    keep_old_order(by=lena)
    kept = replan.replan()
    assert kept.input_hash != second.input_hash
    follow_new_plan(by=lena)
    followed = replan.replan()
    assert followed.input_hash not in (kept.input_hash, second.input_hash)


def test_asked_again_with_nothing_said_it_is_the_same_question(plan):
    assert replan.replan().pk == plan.pk
