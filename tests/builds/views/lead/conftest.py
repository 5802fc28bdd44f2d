"""A chain of jobs on Carla's car, the pages of a job and what the engine said."""

import html

import pytest
from django.urls import reverse

from builds.models import Forecast, ForecastState
from tests.factories.job import JobFactory, OutsideJobFactory


@pytest.fixture
def weld(car):
    return JobFactory(
        key="weld",
        title="Weld the sill",
        build=car,
        trade="panel",
        phase="Metal",
        area="left sill",
    )


@pytest.fixture
def paint(car, weld):
    return JobFactory(key="paint", title="Paint", build=car, after=[weld])


@pytest.fixture
def plating(car):
    return OutsideJobFactory(
        key="plating", title="Zinc", build=car, vendor__name="Brindle"
    )


@pytest.fixture
def answered(shop):
    """Put an answer in place, with as much of it as a test gives."""

    def answered(**answer):
        return Forecast.objects.create(
            state=ForecastState.DONE, input_hash="x", answer=answer
        )

    return answered


@pytest.fixture
def look(lead_client):
    """Look at a page of a job."""

    def look(job, name="job", status=200, headers=None, **data):
        where = reverse(name, args=[job.key])
        page = lead_client.get(where, data, headers=headers)
        assert page.status_code == status
        return html.unescape(page.content.decode())

    return look


@pytest.fixture
def press(lead_client):
    """Press a button of the job page; give the status and the page that follows."""

    def press(act, job, **data):
        where = reverse(f"job_{act}", args=[job.key])
        answer = lead_client.post(where, data)
        page = answer
        if answer.status_code == 302:
            page = lead_client.get(answer["Location"])
        return answer.status_code, html.unescape(page.content.decode())

    return press
