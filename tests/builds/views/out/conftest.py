"""A consignment of two cars, and a way to look and to press."""

import html

import pytest
from django.urls import reverse

from builds.actions.consignments import create_consignment
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.vendor import VendorFactory


@pytest.fixture(autouse=True)
def photographs(settings, tmp_path):
    """Keep what is sent in a place that goes away."""
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def anodiser(shop):
    return VendorFactory(key="anodiser", name="Wrenfold Anodic", phone="01632 960001")


@pytest.fixture
def pedals(car, anodiser):
    return OutsideJobFactory(
        key="pedals", title="Anodise the pedals", build=car, vendor=anodiser, pieces=7
    )


@pytest.fixture
def caps(other_car, anodiser):
    return OutsideJobFactory(
        key="caps", title="Anodise the caps", build=other_car, vendor=anodiser,
        pieces=2,
    )  # fmt: skip


@pytest.fixture
def batch(lena, anodiser, pedals, caps):
    return create_consignment(
        by=lena, vendor=anodiser, jobs=[pedals, caps], name="Black batch"
    )


@pytest.fixture
def away(car, anodiser):
    """Fourteen at the anodiser, twelve on their note; fitting them waits."""
    job = OutsideJobFactory(
        key="trim", title="Trim", build=car, vendor=anodiser, pieces=14,
        pieces_noted=12, state="under way", sent="2027-01-04",
        started="2027-01-04T08:00",
    )  # fmt: skip
    JobFactory(key="fit", title="Fit the trim", build=car, after=[job])
    return job


@pytest.fixture
def look(lead_client):
    def look(name, /, *args, client=None, status=200, **data):
        page = (client or lead_client).get(reverse(name, args=args), data)
        assert page.status_code == status
        return html.unescape(page.content.decode())

    return look


@pytest.fixture
def press(lead_client):
    """Post, and give the status and the page that follows."""

    def press(name, /, *args, client=None, **data):
        who = client or lead_client
        answer = who.post(reverse(name, args=args), data)
        page = who.get(answer["Location"]) if answer.status_code == 302 else answer
        return answer.status_code, html.unescape(page.content.decode())

    return press
