"""Asking the engine, and what is kept of it."""

import math
from datetime import datetime
from unittest import mock

import pytest
from django.db import DatabaseError
from django.urls import reverse

import scheduling
from builds.models import Forecast, ForecastState, Job
from builds.planning.replan import KEPT, replan
from builds.selectors.answers import BROKEN
from tests.factories.job import JobFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def states():
    return list(Forecast.objects.order_by("pk").values_list("state", flat=True))


def test_the_answer_is_kept_with_its_question():
    job = JobFactory(key="weld")
    forecast = replan()
    assert forecast.state == ForecastState.DONE
    assert len(forecast.input_hash) == 64
    forecast.refresh_from_db()
    assert job.key in forecast.answer["jobs"]
    assert forecast.seconds > 0


def test_the_same_plan_is_worked_out_once():
    JobFactory()
    first = replan()
    with mock.patch.object(scheduling, "answer") as engine:
        assert replan() == first
    engine.assert_not_called()


def test_a_changed_plan_is_worked_out_again_and_an_undone_change_is_not():
    job = JobFactory(likely=4)
    first = replan()
    Job.objects.filter(pk=job.pk).update(likely=8)
    second = replan()
    assert second.input_hash != first.input_hash
    Job.objects.filter(pk=job.pk).update(likely=4)
    assert replan() == first
    assert Forecast.objects.latest_done() == first


def test_later_is_another_question():
    JobFactory()
    first = replan(at=datetime(2027, 1, 11, 8, 0))
    assert replan(at=datetime(2027, 1, 11, 8, 15)) != first


def test_one_answer_serves_all_who_asked():
    for _ in range(3):
        Forecast.objects.create()
    replan()
    assert states() == ["superseded", "superseded", "done"]


def test_a_plan_the_engine_cannot_use_fails_with_its_reasons():
    first, second = JobFactory(), JobFactory()
    second.links.create(before=first)
    first.links.create(before=second)
    forecast = replan()
    assert forecast.state == ForecastState.FAILED
    assert "ring" in forecast.faults[0]["what"]
    assert Forecast.objects.latest_done() is None


def test_an_accident_is_kept_and_raised():
    with (
        mock.patch.object(scheduling, "answer", side_effect=MemoryError("too big")),
        pytest.raises(MemoryError),
    ):
        replan()
    forecast = Forecast.objects.get()
    assert (forecast.state, forecast.error) == ("failed", "MemoryError: too big")


def boundless_job(answer):
    answer["jobs"]["weld"]["total_float_hours"] = math.inf


def boundless_whole(answer):
    answer["duration_hours"] = math.inf


@pytest.mark.parametrize("spoil", [boundless_job, boundless_whole])
def test_an_answer_that_cannot_be_kept_fails_and_the_lead_is_told(lead_client, spoil):
    JobFactory(key="weld")
    replan()
    Job.objects.update(likely=8)
    real = scheduling.answer

    def spoilt(plan, **effort):
        answer = real(plan, **effort)
        spoil(answer.as_dict())
        return answer

    with (
        mock.patch.object(scheduling, "answer", spoilt),
        pytest.raises((ValueError, DatabaseError)),
    ):
        replan()
    assert states() == ["done", "failed"]
    page = lead_client.get(reverse("morning")).content.decode()
    assert "The plan as it stands now could not be worked out." in page
    assert BROKEN in page


def test_a_worker_that_comes_second_with_the_same_answer_gives_way():
    JobFactory()
    real = scheduling.answer

    def slow(plan, **effort):
        with mock.patch.object(scheduling, "answer", real):
            replan()
        return real(plan, **effort)

    with mock.patch.object(scheduling, "answer", slow):
        forecast = replan()
    assert sorted(states()) == ["done", "superseded"]
    assert forecast.state == ForecastState.DONE


def test_a_change_made_while_the_engine_works_leaves_a_question_of_its_own():
    real = scheduling.answer

    def meanwhile(plan, **effort):
        Forecast.objects.create()
        return real(plan, **effort)

    with mock.patch.object(scheduling, "answer", meanwhile):
        replan()
    assert sorted(states()) == ["done", "queued"]


def test_old_answers_are_not_kept_for_ever():
    for number in range(KEPT + 5):
        Forecast.objects.create(state="done", input_hash=str(number))
    replan()
    assert Forecast.objects.count() == KEPT
