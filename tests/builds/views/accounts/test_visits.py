"""Where one is signed in, for how long, and ending it (ASVS 5.0, chapter 7)."""

from __future__ import annotations

from datetime import timedelta

import pytest
import time_machine
from allauth.usersessions.models import UserSession
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.models import Role
from tests.builds.views.records.pages import words_of
from tests.conftest import client_of


def is_in(client: Client, page: str = "morning") -> bool:
    return client.get(reverse(page)).status_code == 200


@pytest.fixture
def two(lena):
    """Lena on the desk and on a phone, signed in at the door as people are."""
    lena.set_password("oak hammer river seventeen")
    lena.save()
    sent = {"login": "lena", "password": "oak hammer river seventeen"}
    both = Client(), Client(headers={"user-agent": "A phone in the shop"})
    for client in both:
        client.post(reverse("sign_in"), sent)
    return both


def test_asvs_7_5_2_all_are_listed_and_one_is_ended(two, lena):
    first, second = two
    assert "A phone in the shop" in words_of(first.get(reverse("usersessions_list")))
    other = UserSession.objects.get(session_key=second.session.session_key)
    first.post(reverse("usersessions_end", args=[other.pk]))
    assert is_in(first)
    assert not is_in(second)


def test_asvs_7_5_2_all_others_are_ended(two):
    first, second = two
    first.post(reverse("usersessions_list"))
    assert is_in(first)
    assert not is_in(second)


def test_nobody_ends_anothers(two, tom):
    session = UserSession.objects.filter(user__username="lena").first()
    answer = client_of(tom).post(reverse("usersessions_end", args=[session.pk]))
    assert answer.status_code == 404
    assert is_in(two[0])


def test_asvs_7_4_2_a_sign_in_that_is_closed_ends_everywhere(two, lena):
    lena.is_active = False
    lena.save()
    assert not any(is_in(client) for client in two)


def test_asvs_8_3_2_a_role_taken_away_is_gone_at_the_next_request(two, lena):
    lena.role = Role.TECHNICIAN
    lena.save()
    assert two[0].get(reverse("morning")).status_code == 403


def test_asvs_7_4_3_a_new_password_ends_the_old_visits(two, lena):
    lena.set_password("oak hammer river eighteen")
    lena.save()
    assert not any(is_in(client) for client in two)


@pytest.mark.parametrize(
    ("who", "page", "hours", "still"),
    [
        ("lena", "morning", 11, True),
        ("lena", "morning", 13, False),
        ("tom", "bench", 13, True),
        ("tom", "bench", 13 * 24, True),
        ("tom", "bench", 15 * 24, False),
    ],
)
def test_asvs_7_3_1_left_alone_it_ends(request, who, page, hours, still):
    client = client_of(request.getfixturevalue(who))
    assert is_in(client, page)
    with time_machine.travel(timezone.now() + timedelta(hours=hours)):
        assert is_in(client, page) is still


def test_asvs_7_3_2_in_use_it_ends_after_thirty_days(tom):
    client = client_of(tom)
    begun = timezone.now()
    for days in range(0, 30, 5):
        with time_machine.travel(begun + timedelta(days=days)):
            assert is_in(client, "bench")
    with time_machine.travel(begun + timedelta(days=31)):
        assert not is_in(client, "bench")
