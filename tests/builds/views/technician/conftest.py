"""A job on Carla's car and what the engine said of it."""

import pytest

from builds.models import Forecast, ForecastState
from tests.factories.job import JobFactory


@pytest.fixture
def weld(car):
    return JobFactory(key="weld", title="Weld the sill", build=car, trade="panel")


@pytest.fixture
def answered(shop):
    """Put an answer in place, with as much of it as a test gives."""

    def answered(**answer):
        return Forecast.objects.create(
            state=ForecastState.DONE, input_hash="x", answer=answer
        )

    return answered
