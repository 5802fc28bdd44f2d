"""What somebody reads when something went wrong, whatever it was.

OWASP ASVS 5.0, 16.5.1 (nothing of the inside is shown) and 16.5.3 (what fails, fails
closed).
"""

from __future__ import annotations

import re
from unittest import mock

import pytest
from django.core.exceptions import RequestDataTooBig, SuspiciousOperation
from django.db import InterfaceError, OperationalError
from django.http import Http404, HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse

from builds.models import Person
from builds.views import errors
from builds.views.error_words import WORDS

CODE = re.compile(r"<code>([0-9a-f]{12})</code>")


@pytest.fixture
def stranger():
    """Somebody for whom faults become answers, as for a browser."""
    return Client(raise_request_exception=False)


def failing(error: Exception):
    """Let the page of a sign-in raise; it stands for any."""
    return mock.patch(
        "builds.views.accounts.sign_in.SignInView.dispatch", side_effect=error
    )


@pytest.mark.parametrize("status", sorted(WORDS))
def test_asvs_16_5_3_each_page_needs_neither_database_nor_session(status):
    """The test has no `db`: any query fails it."""
    answer = errors.error_page(status)
    text = answer.content.decode()
    assert answer.status_code == status
    assert WORDS[status].title in text
    assert re.search("saved|changed|kept", WORDS[status].lede)


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (SuspiciousOperation("x"), 400),
        (RequestDataTooBig("x"), 413),
        (Http404("x"), 404),
        (ValueError("the inside"), 500),
        (OperationalError("server closed the connection"), 503),
        (InterfaceError("connection already closed"), 503),
        (OperationalError("database or disk is full"), 503),
    ],
)
def test_asvs_16_5_1_it_says_what_became_of_it_and_nothing_of_the_inside(
    stranger, error, status
):
    with failing(error):
        answer = stranger.get(reverse("sign_in"))
    text = answer.content.decode()
    assert answer.status_code == status
    found = CODE.search(text)
    assert found
    assert found[1] == answer["X-Request-ID"]
    assert str(error) not in text or str(error) == "x"
    assert "Traceback" not in text
    assert ("Retry-After" in answer) is (status == 503)


def test_a_full_disk_is_called_by_its_name(stranger):
    with failing(OperationalError("database or disk is full")):
        assert "disk" in stranger.get(reverse("sign_in")).content.decode()


def test_a_form_that_lay_open_too_long_is_refused_with_words(lena):
    client = Client(enforce_csrf_checks=True)
    client.force_login(lena)
    answer = client.post(reverse("person_new"), {"name": "Ana"})
    assert answer.status_code == 403
    assert "open for too long" in answer.content.decode()
    assert not Person.objects.filter(name="Ana").exists()


def test_a_bare_no_gets_words_and_keeps_its_headers(lead_client, shop):
    answer = lead_client.post(reverse("people"))
    assert answer.status_code == 405
    assert answer["Allow"] == "GET"
    assert WORDS[405].title in answer.content.decode()


def test_a_no_that_has_words_keeps_them():
    bare = errors.BarePageMiddleware(lambda _: HttpResponse("mine", status=409))
    assert bare(RequestFactory().get("/")).content == b"mine"


def test_a_body_that_is_too_large_is_refused_before_it_is_read(stranger, settings):
    settings.BODY_LARGEST_MB = 1
    answer = stranger.post(reverse("sign_in"), {"username": "a" * 1_000_001})
    assert answer.status_code == 413


@pytest.mark.fault("F10")
def test_no_file_is_taken_where_the_disk_is_nearly_full(lead_client, shop, settings):
    settings.DISK_FLOOR_MB = 10**9
    answer = lead_client.post(reverse("exchange"), {"pin_clock": ""})
    assert answer.status_code == 503
    assert lead_client.get(reverse("exchange")).status_code == 200


def test_two_requests_have_two_codes(stranger, db):
    codes = {stranger.get(reverse("sign_in"))["X-Request-ID"] for _ in range(3)}
    assert len(codes) == 3
