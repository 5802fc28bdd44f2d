"""Signing in with a second factor, and what cannot be done without one.

OWASP ASVS 5.0 by number. The codes are worked out here after RFC 6238, not by the
library that checks them.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import re
import struct
import time

import pytest
from allauth.mfa.models import Authenticator
from django.test import Client
from django.urls import reverse

from builds.models import Event
from tests.builds.views.records.pages import words_of
from tests.conftest import client_of

PASSWORD = "oak hammer river seventeen"


def code_of(secret: str, at: float) -> str:
    """RFC 6238 with SHA-1, six digits and half a minute."""
    key = base64.b32decode(secret + "=" * (-len(secret) % 8))
    digest = hmac.new(key, struct.pack(">Q", int(at) // 30), hashlib.sha1).digest()
    start = digest[-1] & 15
    number = struct.unpack(">I", digest[start : start + 4])[0] & 0x7FFFFFFF
    return f"{number % 1_000_000:06}"


def test_the_code_here_is_that_of_the_standard():
    """RFC 6238, appendix B, SHA-1 at 59 s: 94287082, of which six digits."""
    secret = base64.b32encode(b"12345678901234567890").decode()
    assert code_of(secret, 59) == "287082"


@pytest.fixture
def known(lena):
    lena.set_password(PASSWORD)
    lena.save()
    return lena


@pytest.fixture
def secret(known):
    """Set up codes as Lena does, and give what her app knows."""
    client = client_of(known)
    page = words_of(client.get(reverse("mfa_activate_totp")))
    found = re.search(r"<code>([A-Z2-7]{16,})</code>", page)
    assert found
    code = code_of(found[1], time.time())
    answer = client.post(reverse("mfa_activate_totp"), {"code": code})
    assert answer["Location"] == reverse("mfa_view_recovery_codes")
    return found[1]


def sign_in(client: Client, password: str = PASSWORD):
    return client.post(reverse("sign_in"), {"login": "lena", "password": password})


def is_in(client: Client) -> bool:
    return client.get(reverse("morning")).status_code == 200


def test_asvs_6_3_3_password_and_code_together_open(secret):
    client = Client()
    assert sign_in(client)["Location"] == reverse("mfa_authenticate")
    assert not is_in(client)
    wrong = client.post(reverse("mfa_authenticate"), {"code": "000000"})
    assert wrong.status_code == 200
    assert not is_in(client)
    code = code_of(secret, time.time() + 30)
    client.post(reverse("mfa_authenticate"), {"code": code})
    assert is_in(client)


def test_asvs_6_5_1_a_code_opens_once(secret):
    code = code_of(secret, time.time() + 30)
    first, second = Client(), Client()
    for client in (first, second):
        sign_in(client)
        client.post(reverse("mfa_authenticate"), {"code": code})
    assert is_in(first)
    assert not is_in(second)


def test_asvs_6_5_1_a_recovery_code_opens_once(known):
    client = client_of(known)
    page = words_of(client.get(reverse("mfa_activate_totp")))
    found = re.search(r"<code>([A-Z2-7]{16,})</code>", page)
    code = code_of(found[1], time.time())
    shown = client.post(reverse("mfa_activate_totp"), {"code": code}, follow=True)
    recovery = re.findall(r"<code>(\d{8})</code>", words_of(shown))
    assert len(recovery) == 10
    again = words_of(client.get(reverse("mfa_view_recovery_codes")))
    assert recovery[0] not in again
    for expected in (True, False):
        visitor = Client()
        sign_in(visitor)
        visitor.post(reverse("mfa_authenticate"), {"code": recovery[0]})
        assert is_in(visitor) is expected


def test_asvs_11_3_2_what_is_kept_of_a_factor_is_encrypted(secret):
    kept = Authenticator.objects.values_list("data", flat=True)
    assert secret not in str(list(kept))
    assert list(kept)


def test_a_lead_without_a_factor_is_led_to_set_one_up(lena, settings):
    settings.SECOND_FACTOR = True
    client = client_of(lena)
    for name in ("morning", "cars", "addresses", "home"):
        assert client.get(reverse(name))["Location"] == reverse("mfa_index")
    for name in ("mfa_index", "mfa_activate_totp", "mfa_add_webauthn"):
        assert client.get(reverse(name)).status_code == 200
    assert "You have no second factor yet" in words_of(client.get(reverse("mfa_index")))
    assert client.post(reverse("sign_out")).status_code == 302


def test_with_one_the_lead_goes_on(secret, known, settings):
    settings.SECOND_FACTOR = True
    assert is_in(client_of(known))


def test_others_may_do_without(tom, carla, settings):
    settings.SECOND_FACTOR = True
    assert client_of(tom).get(reverse("bench")).status_code == 200
    assert client_of(carla).get(reverse("my_car")).status_code == 200


@pytest.mark.parametrize(
    ("name", "sent"),
    [
        ("mfa_activate_totp", {"code": "1"}),
        ("mfa_add_webauthn", {"credential": "{}"}),
        ("addresses", {"opens": "car:coupe", "days": "30"}),
    ],
)
def test_asvs_7_5_1_who_it_is_is_asked_again_first(known, car, name, sent):
    client = Client()
    client.force_login(known)
    answer = client.post(reverse(name), sent)
    assert answer["Location"].startswith(reverse("account_reauthenticate"))
    assert not Event.objects.filter(verb="gave address").exists()
    wrong = client.post(reverse("account_reauthenticate"), {"password": "no"})
    assert wrong.status_code == 200
    client.post(
        reverse("account_reauthenticate"),
        {"password": PASSWORD, "next": reverse("addresses")},
    )
    done = client.post(reverse("addresses"), {"opens": "car:coupe", "days": "30"})
    assert done["Location"] == reverse("addresses")


def test_asvs_6_3_1_guessing_a_password_is_stopped(known):
    client = Client()
    words = [words_of(sign_in(client, "wrong")) for _ in range(7)]
    assert "do not belong together" in words[0]
    assert "Too often wrong" in words[-1]
    sign_in(client)
    assert not is_in(client)


def test_asvs_6_3_8_a_name_nobody_has_is_answered_alike(known):
    client = Client()

    def said(name: str) -> str:
        sent = {"login": name, "password": "wrong"}
        page = words_of(client.post(reverse("sign_in"), sent))
        return page.split('class="error-list')[1].split("</ul>")[0]

    assert said("lena") == said("nobody")


def test_asvs_6_2_1_no_way_in_but_these(shop):
    """Nothing that signs up or sends mail is reachable."""
    client = Client()
    for path in ("/accounts/signup/", "/signup/", "/password/reset/", "/accounts/"):
        assert client.get(path).status_code == 404


def test_leading_on_goes_only_to_this_site(known):
    sent = {"login": "lena", "password": PASSWORD, "next": "https://evil.example/"}
    answer = Client().post(reverse("sign_in"), sent)
    assert answer["Location"] == "/"
