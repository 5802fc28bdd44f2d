"""A vendor with a private link, and what is out with them and with another."""

import pytest
from django.test import Client
from django.urls import reverse

from builds.actions.vendor_links import make_link
from tests.factories.job import OutsideJobFactory
from tests.factories.vendor import VendorFactory

OUT = {"state": "under way", "started": "2027-01-04T08:00", "sent": "2027-01-04"}


@pytest.fixture
def plater(shop):
    return VendorFactory(
        key="plater", name="Brindle", note="Slow payer", minimum_charge=120
    )


@pytest.fixture
def ours(car, other_car, plater):
    painter = VendorFactory(key="painter", name="Larkhollow")
    OutsideJobFactory(
        key="bumpers", title="Bumpers", build=car, vendor=plater, pieces=14,
        promised="2027-01-29", note="Do not let Carla know", value=900, **OUT,
    )  # fmt: skip
    OutsideJobFactory(
        key="shell", title="Shell in primer", build=other_car, vendor=painter, **OUT
    )
    OutsideJobFactory(key="later", title="Grille bars", build=car, vendor=plater)


@pytest.fixture
def link(lena, plater):
    return make_link(by=lena, vendor=plater)


@pytest.fixture
def theirs(ours, link):
    """A vendor who has opened the link."""
    client = Client()
    answer = client.get(reverse("private_door", args=[link[1]]))
    assert answer["Location"] == reverse("private_page")
    return client
