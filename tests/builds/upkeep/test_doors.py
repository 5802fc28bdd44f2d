"""Who came in, who was not let in, and who was told no: all of it is in the log.

OWASP ASVS 5.0, 16.3.1 and 16.3.2.
"""

from __future__ import annotations

import json
import logging

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client
from django.urls import reverse

from builds.access.tokens import digest_of
from builds.models import PairedPhone
from builds.upkeep.logs import JsonLines
from tests.conftest import client_of

PASSWORD = "oak hammer river seventeen"
SECRET = "s" * 43


@pytest.fixture
def told(caplog):
    """Return a way to give what the doors said, as words and whom they are about."""
    caplog.set_level(logging.INFO, "builds.doors")

    def told() -> list[tuple[str, int | None]]:
        lines = [json.loads(JsonLines().format(one)) for one in caplog.records]
        found = [one for one in lines if one["from"] == "builds.doors"]
        return [(one["says"], one["user"]) for one in found]

    return told


def sign_in(name: str, password: str) -> Client:
    client = Client()
    client.post(reverse("sign_in"), {"login": name, "password": password})
    return client


@pytest.fixture
def known(lena):
    lena.set_password(PASSWORD)
    lena.save()
    return lena


def test_asvs_16_3_1_who_came_in_and_who_went(known, told):
    client = sign_in("lena", PASSWORD)
    assert told() == [("Signed in.", known.pk)]
    client.post(reverse("sign_out"))
    assert told()[1:] == [("Signed out.", known.pk)]


def test_asvs_16_3_1_who_was_not_let_in(known, told, caplog):
    sign_in("lena", "a wrong password altogether")
    assert told() == [("A sign-in was refused.", known.pk)]
    sign_in("typed my password here", PASSWORD)
    assert told()[1:] == [("A sign-in was refused.", None)]
    assert "typed my password" not in caplog.text
    assert PASSWORD not in caplog.text


def test_asvs_16_3_1_wrong_digits_on_a_phone(tom, told):
    PairedPhone.objects.create(
        user=tom, digest=digest_of(SECRET), pin=make_password("7294")
    )
    phone = Client()
    phone.cookies["phone"] = SECRET
    phone.post(reverse("phone_pin"), {"pin": "1111"})
    assert told() == [("Wrong digits on a phone.", tom.pk)]
    phone.post(reverse("phone_pin"), {"pin": "7294"})
    assert told()[1:] == [("Signed in.", tom.pk)]


def test_asvs_16_3_2_who_was_told_no(tom, caplog):
    caplog.set_level(logging.INFO, "builds.requests")
    client_of(tom).get(reverse("people"))
    facts = [one.facts for one in caplog.records if one.name == "builds.requests"]
    assert (facts[-1]["path"], facts[-1]["status"]) == (reverse("people"), 403)
    assert facts[-1]["user"] == tom.pk
