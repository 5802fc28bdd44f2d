"""Tom's phone: a square, a few digits, and what happens when it is lost."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
import time_machine
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.models import PairedPhone, Role
from tests.builds.views.records.pages import words_of

PIN = "7294"


@pytest.fixture
def invitation(lead_client, tom):
    page = words_of(
        lead_client.post(reverse("phones"), {"user": str(tom.pk)}, follow=True)
    )
    assert "<svg" in page
    return re.search(r"/pair/([\w-]{43})/", page)[1]


@pytest.fixture
def phone(invitation):
    client = Client()
    answer = client.post(reverse("phone_pair", args=[invitation]), {"pin": PIN})
    assert answer["Location"] == reverse("bench")
    return client


def is_in(client: Client) -> bool:
    return client.get(reverse("bench")).status_code == 200


def open_with(client: Client, pin: str):
    return client.post(reverse("phone_pin"), {"pin": pin})


def sign_out(client: Client) -> None:
    client.post(reverse("sign_out"))
    assert not is_in(client)


def test_scanned_and_given_digits_it_is_in(phone):
    assert is_in(phone)
    assert phone.cookies["phone"]["httponly"]


def test_signed_out_it_opens_with_the_digits(phone):
    sign_out(phone)
    assert "digits of this phone" in words_of(phone.get(reverse("sign_in")))
    open_with(phone, PIN)
    assert is_in(phone)


def test_its_forms_say_where_they_come_from(invitation, phone):
    """A browser sends forms of a page with "no-referrer" from nowhere: refused."""
    sign_out(phone)
    asked = phone.get(reverse("phone_pin"))
    assert asked["Referrer-Policy"] == "same-origin"
    assert "no-store" in asked["Cache-Control"]
    wrong = phone.get(reverse("phone_pair", args=[invitation]))
    assert (wrong.status_code, wrong["Referrer-Policy"]) == (404, "no-referrer")


def test_asvs_6_5_2_neither_secret_nor_digits_are_kept(phone):
    kept = str(list(PairedPhone.objects.values()))
    assert phone.cookies["phone"].value not in kept
    assert not re.search(rf"\b{PIN}\b", kept)  # a hash may have them by chance


def test_five_wrong_and_the_phone_opens_nothing_any_more(phone):
    sign_out(phone)
    answers = [words_of(open_with(phone, "0000")) for _ in range(5)]
    assert "That is not it" in answers[0]
    assert "opens nothing any more" in answers[-1]
    open_with(phone, PIN)
    assert not is_in(phone)


def test_a_right_one_forgives_the_wrong_ones(phone):
    sign_out(phone)
    for _ in range(4):
        open_with(phone, "0000")
    open_with(phone, PIN)
    assert PairedPhone.objects.get().misses == 0


def test_the_digits_are_nothing_without_the_phone(phone):
    stranger = Client()
    answer = open_with(stranger, PIN)
    assert answer["Location"] == reverse("sign_in")


def test_asvs_6_4_1_an_invitation_is_for_one_phone(invitation, phone):
    again = Client().post(reverse("phone_pair", args=[invitation]), {"pin": PIN})
    assert again.status_code == 404


def test_asvs_6_4_1_an_invitation_is_over_after_ten_minutes(invitation):
    with time_machine.travel(timezone.now() + timedelta(minutes=11)):
        late = Client().post(reverse("phone_pair", args=[invitation]), {"pin": PIN})
    assert late.status_code == 404


@pytest.mark.parametrize(
    "pin", ["", "123", "1234", "4321", "7777", "abcd", "٣٤٥٦", "1" * 9]
)
def test_plain_digits_are_refused(invitation, pin):
    client = Client()
    answer = client.post(reverse("phone_pair", args=[invitation]), {"pin": pin})
    assert answer.status_code == 422
    assert not is_in(client)


def test_the_lead_ends_a_lost_phone_and_its_visit(lead_client, phone):
    lead_client.post(reverse("phone_end", args=[PairedPhone.objects.get().pk]))
    assert not is_in(phone)
    open_with(phone, PIN)
    assert not is_in(phone)


@pytest.mark.parametrize("change", [{"is_active": False}, {"role": Role.CUSTOMER}])
def test_who_no_longer_works_here_opens_nothing(phone, tom, change):
    sign_out(phone)
    type(tom).objects.filter(pk=tom.pk).update(**change)
    open_with(phone, PIN)
    assert not is_in(phone)


def test_no_leads_phone_is_paired(lead_client, lena):
    answer = lead_client.post(reverse("phones"), {"user": str(lena.pk)})
    assert answer.status_code == 422
    assert not PairedPhone.objects.exists()
