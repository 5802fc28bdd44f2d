"""Passwords and sessions. OWASP ASVS 5.0, V6 to V8 and V11."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.contrib.sessions.backends.base import VALID_KEY_CHARS
from django.contrib.sessions.models import Session
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.actions.errors import Refused
from builds.actions.sign_ins import give_sign_in
from builds.models import Role, User

GOOD = "long enough for one factor"
pytestmark = pytest.mark.django_db


def sign_in(client: Client, password: str) -> int:
    sent = {"login": "lena", "password": password}
    return client.post(reverse("sign_in"), sent).status_code


@pytest.fixture
def lena_with_password(lena):
    lena.set_password(GOOD)
    lena.save()
    return lena


@pytest.mark.parametrize("password", ["short", "14 letters lon"])
def test_asvs_6_2_1_short_passwords_are_refused(password, shop):
    """NIST SP 800-63B-4: fifteen where it is the only factor."""
    with pytest.raises(Refused):
        give_sign_in(by=None, username="ana", role=Role.LEAD, password=password)


@pytest.mark.parametrize("password", ["1q2w3e4r5t6y7u8i9o0p", "123456789987654321"])
def test_asvs_6_2_4_passwords_everybody_tries_are_refused(password):
    """Both are long, and both are in Django's list of 20,000."""
    with pytest.raises(ValidationError, match="common"):
        validate_password(password)


@pytest.mark.parametrize(
    "password", ["aaaa bbbb cccc dddd", "ß" * 20, "😀" * 16, "🔧 and nothing but 🔧"]
)
def test_asvs_6_2_5_any_letters_will_do(password):
    validate_password(password)


@pytest.mark.parametrize("length", [64, 128])
def test_asvs_6_2_9_long_ones_are_taken(length):
    validate_password("correct horse " * 10 + "x" * length)


def test_asvs_6_2_6_it_is_not_shown_while_it_is_typed(client, shop):
    text = client.get(reverse("sign_in")).content.decode()
    assert re.search(r'<input[^>]*type="password"[^>]*name="password"', text) or (
        re.search(r'<input[^>]*name="password"[^>]*type="password"', text)
    )


@pytest.mark.parametrize("wrong", [GOOD.upper(), f" {GOOD}", f"{GOOD} ", GOOD[:-1]])
def test_asvs_6_2_8_it_is_compared_letter_for_letter(wrong, client, lena_with_password):
    assert sign_in(client, wrong) == 200
    assert sign_in(client, GOOD) == 302


def test_asvs_6_2_10_no_password_runs_out(client, lena_with_password):
    User.objects.update(date_joined=timezone.now() - timedelta(days=3650))
    assert sign_in(client, GOOD) == 302


def test_asvs_6_3_2_a_new_site_lets_nobody_in():
    assert not User.objects.exists()


def test_asvs_6_4_2_nobody_is_asked_for_a_pet(client, shop):
    text = client.get(reverse("sign_in")).content.decode().lower()
    assert "hint" not in text
    assert "secret question" not in text


def test_asvs_7_2_1_a_session_that_the_server_does_not_know_is_none(
    client, lena_with_password
):
    sign_in(client, GOOD)
    assert client.get(reverse("people")).status_code == 200
    Session.objects.all().delete()
    assert client.get(reverse("people")).status_code == 302


def test_asvs_7_2_2_a_session_is_made_anew_for_each_sign_in(lena_with_password):
    keys = set()
    for _ in range(3):
        client = Client()
        sign_in(client, GOOD)
        keys.add(client.session.session_key)
    assert len(keys) == 3


def test_asvs_7_2_3_nobody_guesses_a_session(client, lena_with_password):
    sign_in(client, GOOD)
    key = client.session.session_key
    assert len(key) * (len(VALID_KEY_CHARS).bit_length() - 1) >= 128
    assert set(key) <= set(VALID_KEY_CHARS)


def test_asvs_7_2_4_signing_in_ends_the_session_before(client, lena_with_password):
    client.cookies[settings.SESSION_COOKIE_NAME] = "a" * 32
    sign_in(client, GOOD)
    before = client.session.session_key
    assert before != "a" * 32
    sign_in_again = Client()
    sign_in(sign_in_again, GOOD)
    assert sign_in_again.session.session_key != before


def test_asvs_7_4_1_after_signing_out_the_session_is_worth_nothing(
    client, lena_with_password
):
    sign_in(client, GOOD)
    key = client.session.session_key
    client.post(reverse("sign_out"))
    assert not Session.objects.filter(session_key=key).exists()
    thief = Client()
    thief.cookies[settings.SESSION_COOKIE_NAME] = key
    assert thief.get(reverse("people")).status_code == 302


def test_asvs_14_3_1_nothing_stays_in_the_browser_after_signing_out(
    client, lena_with_password
):
    """Clear-Site-Data, W3C: the browser forgets cache and storage of the site."""
    sign_in(client, GOOD)
    answer = client.post(reverse("sign_out"))
    assert '"cache"' in answer["Clear-Site-Data"]
    assert '"storage"' in answer["Clear-Site-Data"]


def test_asvs_7_4_2_who_is_shut_out_is_out_at_once(lead_client, lena):
    assert lead_client.get(reverse("people")).status_code == 200
    User.objects.filter(pk=lena.pk).update(is_active=False)
    assert lead_client.get(reverse("people")).status_code == 302


def test_asvs_8_3_2_a_role_that_was_taken_away_is_gone_with_the_next_request(
    lead_client, lena
):
    assert lead_client.get(reverse("people")).status_code == 200
    User.objects.filter(pk=lena.pk).update(role=Role.TECHNICIAN)
    assert lead_client.get(reverse("people")).status_code == 403
