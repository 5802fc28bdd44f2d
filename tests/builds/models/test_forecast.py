"""Which forecast counts."""

from datetime import timedelta

import pytest
from django.utils import timezone

from builds.models import Forecast, ForecastState

pytestmark = pytest.mark.django_db


def test_the_newest_question_counts_not_the_answer_that_came_last():
    now = timezone.now()
    new = Forecast.objects.create(
        state=ForecastState.DONE, input_hash="b", asked_at=now
    )
    Forecast.objects.create(
        state=ForecastState.DONE,
        input_hash="a",
        asked_at=now - timedelta(minutes=1),
        finished=now + timedelta(minutes=1),
    )
    Forecast.objects.create(state=ForecastState.FAILED, asked_at=now)
    assert Forecast.objects.latest_done() == new


def test_without_an_answer_there_is_none():
    assert Forecast.objects.latest_done() is None
