"""Who gets through, before a view sees anything."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.test import RequestFactory

from builds.access import gates
from tests.factories.job import JobFactory
from tests.factories.vendor import VendorFactory


@pytest.fixture
def ask(shop):
    def ask(view, user, **keys):
        request = RequestFactory().get("/cars/")
        request.user = user or AnonymousUser()
        return view(request, **keys)

    return ask


def page(request, **rows):
    return HttpResponse(",".join(f"{name}={row.key}" for name, row in rows.items()))


@pytest.mark.parametrize(
    ("gate", "welcome"),
    [
        ("lead_only", {"lena"}),
        ("technician_only", {"tom"}),
        ("customer_only", {"carla"}),
        ("staff_only", {"lena", "tom"}),
        ("signed_in", {"lena", "tom", "carla"}),
    ],
)
@pytest.mark.parametrize("who", ["lena", "tom", "carla"])
def test_a_gate_lets_its_role_in_and_forbids_the_others(
    ask, request, gate, welcome, who
):
    view = getattr(gates, gate)(page)
    user = request.getfixturevalue(who)
    if who in welcome:
        assert ask(view, user).status_code == 200
    else:
        with pytest.raises(PermissionDenied):
            ask(view, user)


@pytest.mark.parametrize(
    "gate", ["lead_only", "technician_only", "customer_only", "staff_only", "signed_in"]
)
def test_a_stranger_is_sent_to_sign_in(ask, gate, settings):
    settings.LOGIN_URL = "/sign-in/"
    response = ask(getattr(gates, gate)(page), None)
    assert response.status_code == 302
    assert response["Location"] == "/sign-in/?next=/cars/"


def test_a_customer_gets_their_own_car(ask, carla):
    view = gates.customer_only(gates.load_build(page))
    assert ask(view, carla, build_key="coupe").content == b"build=coupe"


def test_a_car_of_somebody_else_is_not_there(ask, otto, carla):
    view = gates.customer_only(gates.load_build(page))
    with pytest.raises(Http404):
        ask(view, otto, build_key="coupe")


def test_a_car_that_is_not_there_is_not_there(ask, carla):
    view = gates.customer_only(gates.load_build(page))
    with pytest.raises(Http404):
        ask(view, carla, build_key="nothing")


def test_a_second_car_of_the_same_customer_is_theirs_too(ask, carla, other_car):
    carla.cars.add(other_car)
    view = gates.customer_only(gates.load_build(page))
    assert ask(view, carla, build_key="saloon").status_code == 200


@pytest.mark.parametrize("who", ["lena", "tom"])
def test_the_workshop_sees_every_car(ask, request, car, who):
    view = gates.staff_only(gates.load_build(page))
    user = request.getfixturevalue(who)
    assert ask(view, user, build_key="coupe").status_code == 200


def test_a_customer_sees_no_job_of_their_own_car(ask, carla, car):
    JobFactory(key="weld", build=car)
    with pytest.raises(Http404):
        ask(gates.signed_in(gates.load_job(page)), carla, job_key="weld")


def test_a_customer_may_answer_for_their_own_car_only(ask, carla, otto, car):
    JobFactory(key="leather", build=car, kind="decision")
    view = gates.signed_in(gates.load_choice(page))
    assert ask(view, carla, job_key="leather").status_code == 200
    with pytest.raises(Http404):
        ask(view, otto, job_key="leather")


def test_a_technician_does_not_answer_for_a_customer(ask, tom, car):
    JobFactory(key="leather", build=car, kind="decision")
    with pytest.raises(Http404):
        ask(gates.signed_in(gates.load_choice(page)), tom, job_key="leather")


def test_a_customer_sees_no_vendor(ask, carla):
    VendorFactory(key="plater")
    with pytest.raises(Http404):
        ask(gates.signed_in(gates.load_vendor(page)), carla, vendor_key="plater")


def test_a_role_taken_away_is_gone_with_the_next_request(ask, lena):
    lena.role = "customer"
    lena.save()
    lena.refresh_from_db()
    with pytest.raises(PermissionDenied):
        ask(gates.lead_only(page), lena)
