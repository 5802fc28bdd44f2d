"""The wish for a forecast survives whatever happens to the queue."""

from datetime import timedelta
from unittest import mock

import pytest
from django.db import transaction
from django.utils import timezone
from kombu.exceptions import OperationalError

import scheduling
from builds.models import Forecast, ForecastState
from builds.planning.search import TURN
from builds.tasks import replan as tasks
from builds.tasks.replan import request_replan
from builds.tasks.undone import drain
from tests.factories.job import JobFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def states():
    return list(Forecast.objects.order_by("pk").values_list("state", flat=True))


def test_without_a_queue_it_is_worked_out_on_the_spot(
    django_capture_on_commit_callbacks,
):
    with django_capture_on_commit_callbacks(execute=True):
        request_replan()
    assert states() == ["done"]


def test_two_wishes_of_one_change_are_worked_out_once(
    django_capture_on_commit_callbacks,
):
    JobFactory()
    with (
        mock.patch.object(scheduling, "answer", wraps=scheduling.answer) as engine,
        django_capture_on_commit_callbacks(execute=True),
    ):
        request_replan()
        request_replan()
    assert engine.call_count == 1
    assert states() == ["superseded", "done"]


def test_a_change_taken_back_leaves_no_wish(django_capture_on_commit_callbacks):
    def change():
        with transaction.atomic():
            request_replan()
            raise ValueError("taken back")

    with (
        django_capture_on_commit_callbacks(execute=True) as callbacks,
        pytest.raises(ValueError, match="taken back"),
    ):
        change()
    assert not callbacks
    assert states() == []


def test_with_a_queue_it_is_handed_over(settings, django_capture_on_commit_callbacks):
    settings.REDIS_URL = "redis://localhost:1/0"
    with (
        mock.patch.object(tasks.replan_workshop, "delay") as delay,
        django_capture_on_commit_callbacks(execute=True),
    ):
        request_replan()
    delay.assert_called_once_with()
    assert states() == ["queued"]


def test_with_the_queue_away_the_wish_waits_and_the_change_stands(
    settings, django_capture_on_commit_callbacks, caplog
):
    settings.REDIS_URL = "redis://localhost:1/0"
    away = OperationalError("nobody there")
    with (
        mock.patch.object(tasks.replan_workshop, "delay", side_effect=away),
        django_capture_on_commit_callbacks(execute=True),
    ):
        request_replan()
    assert states() == ["queued"]
    assert "nobody there" in caplog.text
    assert drain() == 1
    assert states() == ["done"]


def test_an_engine_that_fails_does_not_take_the_change_with_it(
    django_capture_on_commit_callbacks, caplog
):
    with (
        mock.patch.object(scheduling, "answer", side_effect=MemoryError("too big")),
        django_capture_on_commit_callbacks(execute=True),
    ):
        request_replan()
    assert states() == ["failed"]
    assert "what was changed is kept" in caplog.text


def test_what_a_lost_worker_had_taken_is_taken_again():
    long_ago = timezone.now() - timedelta(minutes=6)
    Forecast.objects.create(state=ForecastState.RUNNING, seen=long_ago)
    assert drain() == 1
    assert states() == ["done"]


def test_what_a_worker_is_busy_with_is_left_alone():
    Forecast.objects.create(state=ForecastState.RUNNING, seen=timezone.now())
    assert drain() == 0
    assert states() == ["running"]


def test_a_task_delivered_twice_answers_once():
    JobFactory()
    request_replan()
    tasks.replan_workshop()
    tasks.replan_workshop()
    assert Forecast.objects.filter(state=ForecastState.DONE).count() == 1


def test_no_task_may_run_longer_than_the_queue_waits_for_it(settings):
    """Redis hands an unacknowledged task out again: Celery's documentation, Redis
    caveats, "visibility timeout"."""
    waits = settings.CELERY_BROKER_TRANSPORT_OPTIONS["visibility_timeout"]
    assert waits > settings.CELERY_TASK_TIME_LIMIT
    assert settings.CELERY_TASK_TIME_LIMIT > settings.CELERY_TASK_SOFT_TIME_LIMIT
    assert settings.CELERY_TASK_SOFT_TIME_LIMIT > 2 * TURN
