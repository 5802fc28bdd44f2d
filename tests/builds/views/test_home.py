"""The way in: everyone lands on their own page, and the demo's doors are shut."""

import pytest
from django.urls import reverse

from builds.models import Role
from tests.assertions import assert_needs_login

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("who", "page"), [("lena", "morning"), ("tom", "bench"), ("carla", "my_car")]
)
def test_home_is_ones_own_page(client, request, who, page):
    client.force_login(request.getfixturevalue(who))
    assert client.get("/")["Location"] == reverse(page)


def test_a_stranger_is_asked_to_sign_in(client):
    assert_needs_login(client.get("/"))


def test_signing_in_and_out(client, lena):
    lena.set_password("a long enough password")
    lena.save()
    entry = {"login": "lena", "password": "a long enough password"}
    assert client.post(reverse("sign_in"), entry)["Location"] == "/"
    assert client.post(reverse("sign_out")).status_code == 302
    assert_needs_login(client.get("/"))


def test_a_wrong_password_keeps_the_name_and_says_so(client, lena):
    page = client.post(reverse("sign_in"), {"login": "lena", "password": "no"})
    text = page.content.decode()
    assert 'value="lena"' in text
    assert "data-take-focus" in text


@pytest.mark.parametrize("role", Role.values)
def test_the_doors_are_shut_where_the_work_is_real(client, lena, tom, carla, role):
    assert client.post(reverse("enter"), {"who": role}).status_code == 404
    assert_needs_login(client.get("/"))


@pytest.mark.parametrize("role", Role.values)
def test_the_doors_of_the_demo(client, settings, lena, tom, carla, role):
    settings.DEMO = True
    assert client.post(reverse("enter"), {"who": role})["Location"] == "/"
    assert int(client.session["_auth_user_id"]) in {lena.pk, tom.pk, carla.pk}


def test_only_known_doors_open_and_only_by_post(client, settings, lena):
    settings.DEMO = True
    assert client.post(reverse("enter"), {"who": "owner"}).status_code == 404
    assert client.post(reverse("enter")).status_code == 404
    assert client.get(reverse("enter")).status_code == 405
