"""Carla's car in a show, and what the engine said of it."""

import pytest

from builds.models import Forecast, ForecastState, ShowEntry
from tests.factories.show import ShowFactory

LEVEL = {
    "planned": "2027-03-10T12:00",
    "p10": "2027-03-18T12:00",
    "p50": "2027-03-25T12:00",
    "p80": "2027-04-02T12:00",
    "p90": "2027-04-09T12:00",
}


@pytest.fixture
def entered(car):
    show = ShowFactory(key="summer", name="Summer show")
    return ShowEntry.objects.create(show=show, build=car, level="complete")


@pytest.fixture
def answered(shop):
    def answered(**answer):
        answer = {"now": "2027-01-11T08:00"} | answer
        return Forecast.objects.create(
            state=ForecastState.DONE, input_hash="x", answer=answer
        )

    return answered
