"""Only the lead keeps the records; looking changes nothing."""

import ast
import inspect

import pytest
from django.test import Client
from django.urls import get_resolver, reverse

from builds.models import Event, SheetFile
from builds.views.records.urls import urlpatterns
from tests.assertions import assert_forbidden, assert_needs_login
from tests.factories.job import JobFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory
from tests.factories.workshop import CalendarFactory

KEYS = {
    "build_key": "coupe",
    "job_key": "weld",
    "person_key": "tom",
    "vendor_key": "plater",
    "show_key": "summer",
    "calendar_key": "evenings",
    "place_key": "booth",
    "number": 1,
    "name": "jobs.csv",
}
ONLY_POST = {
    "car_leave_out", "car_restore", "job_places", "link_remove", "person_trades",
    "days_away_add", "days_away_remove", "person_leave_out", "person_restore",
    "closure_add", "closure_remove", "vendor_leave_out", "vendor_restore",
    "sheet_take", "address_replace", "address_revoke",
    "entry_add", "entry_withdraw", "show_cancel", "show_restore",
    "week_usual", "week_remove", "place_remove",
}  # fmt: skip
NAMES = [pattern.name for pattern in urlpatterns]


@pytest.fixture
def records(car, tom, lena):
    SheetFile.objects.create(pk=1, by=lena, name="a", tables=[["a", [["Job"]], []]])
    JobFactory(key="weld", build=car)
    VendorFactory(key="plater")
    ShowFactory(key="summer")
    CalendarFactory(key="evenings", position=1)
    PlaceFactory(key="booth")


def address(name: str) -> str:
    asked = next(one.pattern.converters for one in urlpatterns if one.name == name)
    return reverse(name, kwargs={key: KEYS[key] for key in asked})


@pytest.mark.parametrize("name", NAMES)
def test_a_stranger_is_sent_to_sign_in(records, name):
    assert_needs_login(Client().get(address(name)))
    assert_needs_login(Client().post(address(name)))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("who", ["technician_client", "customer_client"])
def test_others_are_forbidden(records, request, name, who):
    client = request.getfixturevalue(who)
    assert_forbidden(client.get(address(name)))
    assert_forbidden(client.post(address(name)))


@pytest.mark.parametrize("name", [one for one in NAMES if one not in ONLY_POST])
def test_the_lead_sees_every_page_and_looking_writes_nothing(
    records, lead_client, name
):
    response = lead_client.get(address(name))
    assert response.status_code == 200
    assert not Event.objects.exists()


@pytest.mark.parametrize("name", sorted(ONLY_POST))
def test_an_act_is_never_done_by_looking(records, lead_client, name):
    assert lead_client.get(address(name)).status_code == 405


@pytest.mark.parametrize("name", [one for one in NAMES if "new" in one])
def test_an_empty_form_is_refused_and_writes_nothing(records, lead_client, name):
    response = lead_client.post(address(name), {})
    assert response.status_code == 422
    assert "Problem: " in response.content.decode()
    assert not Event.objects.exists()


def test_a_row_that_is_not_there_is_not_found(lead_client, shop):
    for name, key in [("car_edit", "x"), ("person", "a b/c"), ("vendor", "ü")]:
        assert lead_client.get(reverse(name, args=[key])).status_code == 404


def test_a_nul_in_an_address_is_not_found(lead_client, shop):
    assert lead_client.get("/people/a%00b/").status_code == 404
    assert get_resolver()


@pytest.mark.parametrize("name", ["days_away_remove", "closure_remove"])
def test_a_number_no_database_holds_is_not_found(records, lead_client, name):
    path = address(name).replace("/1/", f"/{10**30}/")
    assert lead_client.post(path).status_code == 404


def test_every_view_is_fifteen_lines_or_fewer():
    for pattern in urlpatterns:
        source = inspect.getsource(inspect.unwrap(pattern.callback))
        body = ast.parse(source).body[0].body
        lines = body[-1].end_lineno - body[0].lineno + 1
        assert lines <= 15, f"Is {pattern.name} one act?"
