"""A real workshop's first sign-ins."""

import io

import pytest
from django.core.management import CommandError, call_command

from builds.models import Event, Role, User

LONG = "grey primer on a wet tuesday"


@pytest.fixture
def typed(monkeypatch):
    def type_password(words):
        monkeypatch.setattr("sys.stdin", io.StringIO(f"{words}\n"))

    return type_password


@pytest.fixture(autouse=True)
def _workshop(shop):
    pass


def test_a_lead_signs_in_with_it(client, typed):
    typed(LONG)
    call_command("give_sign_in", "lena", role="lead")
    assert client.login(username="lena", password=LONG)
    assert User.objects.get().role == Role.LEAD
    assert Event.objects.get().verb == "gave sign-in"


def test_a_customer_gets_their_own_car_and_no_other(car, other_car, typed):
    typed(LONG)
    call_command("give_sign_in", "carla", role="customer", car=[car.key])
    assert list(User.objects.get().cars.all()) == [car]


def test_a_customer_without_a_car_is_refused(typed):
    typed(LONG)
    with pytest.raises(CommandError, match="at least one car"):
        call_command("give_sign_in", "carla", role="customer")
    assert not User.objects.exists()


def test_a_short_password_is_refused(typed):
    """NIST SP 800-63B-4: one factor alone has fifteen letters or more."""
    typed("fourteen signs")
    with pytest.raises(CommandError, match="at least 15"):
        call_command("give_sign_in", "lena", role="lead")
    assert not User.objects.exists()


@pytest.mark.parametrize("wrong", [{"person": "nobody"}, {"car": ["nothing"]}])
def test_who_is_not_there_is_not_signed_in(typed, wrong):
    typed(LONG)
    with pytest.raises(CommandError, match=r"nobody|nothing"):
        call_command("give_sign_in", "lena", role="technician", **wrong)
    assert not User.objects.exists()


def test_done_again_it_changes_the_password(client, typed):
    for words in (LONG, LONG[::-1]):
        typed(words)
        call_command("give_sign_in", "lena", role="lead")
    assert not client.login(username="lena", password=LONG)
    assert client.login(username="lena", password=LONG[::-1])
