"""Sign-ins by name and a small workshop for everybody's tests.

Lena leads. Tom works on the cars. Carla owns one car, Otto another: he must never
see anything of hers.
"""

from __future__ import annotations

import pytest
from django.conf import settings
from django.http import HttpRequest
from django.test import Client

from builds.models import Role
from tests.builds.faults.table import lines, note_faults
from tests.factories.build import BuildFactory
from tests.factories.people import PersonFactory, UserFactory
from tests.factories.workshop import CalendarFactory, WorkshopFactory


def pytest_configure() -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.REDIS_URL = ""
    settings.DEMO = False
    settings.FORECAST_SCHEDULES = 2
    settings.FORECAST_SAMPLES = 50


@pytest.hookimpl(tryfirst=True)  # before xdist reads the groups
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """One worker drives the browser: the demo is served once."""
    for item in items:
        note_faults(item)
        if item.get_closest_marker("browser"):
            item.add_marker(pytest.mark.xdist_group("browser"))


def pytest_terminal_summary(terminalreporter, config) -> None:
    """Say of each fault whether it is survived, where the faults are what is run."""
    if "fault" in config.getoption("markexpr").split():
        terminalreporter.section("faults survived")
        terminalreporter.write_line("\n".join(lines(terminalreporter.stats)))


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    request, tmp_path_factory, django_db_modify_db_settings_parallel_suffix
):
    """A browser is served from another thread, so it needs a database in a file."""
    from django.db import connections

    browser = any(one.get_closest_marker("browser") for one in request.session.items)
    if browser and connections["default"].vendor == "sqlite":
        name = tmp_path_factory.mktemp("database") / "test.sqlite3"
        connections["default"].settings_dict["TEST"]["NAME"] = str(name)


@pytest.fixture
def shop(db):
    """A workshop on Monday 11 January 2027, 08:00, open on weekdays."""
    CalendarFactory()
    return WorkshopFactory()


@pytest.fixture
def lena(shop):
    person = PersonFactory(key="lena", name="Lena")
    return UserFactory(username="lena", role=Role.LEAD, person=person)


@pytest.fixture
def tom(shop):
    person = PersonFactory(key="tom", name="Tom", trades=["panel"])
    return UserFactory(username="tom", role=Role.TECHNICIAN, person=person)


@pytest.fixture
def car(shop):
    """Carla's."""
    return BuildFactory(key="coupe", name="Grey coupe", customer="Carla")


@pytest.fixture
def other_car(shop):
    """Otto's."""
    return BuildFactory(key="saloon", name="Red saloon", customer="Otto")


@pytest.fixture
def carla(car):
    return UserFactory(username="carla", role=Role.CUSTOMER, cars=[car])


@pytest.fixture
def otto(other_car):
    return UserFactory(username="otto", role=Role.CUSTOMER, cars=[other_car])


def client_of(user) -> Client:
    """Give a browser in which they have just signed in."""
    from allauth.account.internal.flows.login import record_authentication

    client = Client()
    client.force_login(user)
    asked = HttpRequest()
    asked.session = client.session
    record_authentication(asked, user, method="password", reauthenticated=True)
    asked.session.save()
    return client


@pytest.fixture
def lead_client(lena):
    return client_of(lena)


@pytest.fixture
def technician_client(tom):
    return client_of(tom)


@pytest.fixture
def customer_client(carla):
    return client_of(carla)
