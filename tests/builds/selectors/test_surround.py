"""How fresh the answer is, as every page of the workshop says."""

from datetime import timedelta

import pytest
from django.test import RequestFactory
from django.utils import timezone

from builds.models import Forecast, ForecastState
from builds.selectors.surround import surround

NOW = timezone.now()


@pytest.fixture
def fresh(lena):
    def look():
        request = RequestFactory().get("/")
        request.user = lena
        return surround(request)["forecast"]

    return look


def ran(state, minutes=0):
    Forecast.objects.create(
        state=state, asked_at=NOW + timedelta(minutes=minutes), input_hash=state
    )


def test_before_the_first_answer(fresh):
    assert (fresh().at, fresh().running, fresh().stale) == (None, False, False)


def test_an_old_answer_that_is_the_newest_again_is_not_stale(fresh):
    ran(ForecastState.DONE)
    ran(ForecastState.SUPERSEDED)  # the question that it answered once more
    assert not fresh().stale


def test_a_newer_question_that_failed_makes_it_stale(fresh):
    ran(ForecastState.DONE)
    ran(ForecastState.FAILED, 1)
    assert fresh().stale


@pytest.mark.parametrize("state", [ForecastState.QUEUED, ForecastState.RUNNING])
def test_one_that_is_awaited_is_said_instead(fresh, state):
    ran(ForecastState.DONE)
    ran(state, 1)
    assert (fresh().running, fresh().stale) == (True, False)
