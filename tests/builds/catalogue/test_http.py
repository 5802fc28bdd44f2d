"""Requests that no browser of ours would send."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse
from django.utils.http import urlencode

from builds.models import Person

pytestmark = pytest.mark.django_db
LONG = "x" * 9000


@pytest.mark.parametrize(
    "host",
    ["evil.example", "testserver.evil.example", "a b", "", "[::1",
     "testserver@evil.example", "xn--ls8h.example", "testserver/../x"],
)  # fmt: skip
def test_a_host_that_is_not_ours_is_refused(host):
    client = Client(raise_request_exception=False)
    assert client.get("/sign-in/", SERVER_NAME="x", HTTP_HOST=host).status_code == 400


@pytest.mark.parametrize(
    "chain", ["1.1.1.1, 2.2.2.2", "'; drop table", "\x00", "::1", ", ,", "x" * 8000]
)
def test_who_says_where_they_come_from_changes_nothing(chain, lead_client):
    heads = {"HTTP_X_FORWARDED_FOR": chain, "HTTP_X_FORWARDED_HOST": "evil.example"}
    answer = lead_client.get(reverse("people"), **heads)
    assert answer.status_code == 200
    assert "evil.example" not in answer.content.decode()


@pytest.mark.parametrize(
    "path",
    [f"/cars/{LONG}/", "/cars/%00/", "/cars/%2e%2e%2f%2e%2e%2fetc/passwd/",
     "/cars/%252e%252e/", "/static/../../manage.py", "/static/%2e%2e/settings.py",
     "/cars/\ud83d/".encode("utf-8", "surrogatepass").decode("latin-1"),
     "/cars/a//b/", "/cars/%ff%fe/", "/\\evil.example", "/cars/;x=1/"],
)  # fmt: skip
def test_an_address_that_nothing_stands_at(path, lead_client):
    lead_client.raise_request_exception = False
    answer = lead_client.get(path)
    assert answer.status_code in (301, 400, 404), path
    assert not answer.get("Location", "").startswith(("//", "http"))


def test_a_very_long_question_is_answered(lead_client):
    address = f"{reverse('people')}?{urlencode({'q': LONG})}"
    assert lead_client.get(address).status_code in (200, 400, 414)


@pytest.mark.parametrize("method", ["put", "patch", "delete", "trace", "options"])
@pytest.mark.parametrize("name", ["people", "person_new", "sign_in", "exchange"])
def test_ways_of_asking_that_are_not_used_are_refused(method, name, lead_client):
    answer = getattr(lead_client, method)(reverse(name))
    assert answer.status_code in (200, 302, 405)
    assert not Person.objects.filter(name="").exists()
    if name in ("people", "person_new", "exchange"):
        assert answer.status_code == 405


def test_a_look_at_the_head_has_no_body(lead_client):
    answer = lead_client.head(reverse("sign_in"))
    assert answer.status_code in (200, 302)
    assert answer.content == b""


@pytest.mark.parametrize("value", ["x" * 5000, "\x00", "\xe2\x98\x83", "a=b; c=d", ""])
def test_a_cookie_of_nonsense_is_a_stranger(value, client, shop):
    client.cookies["sessionid"] = value
    client.cookies["csrftoken"] = value
    assert client.get(reverse("people")).status_code == 302


@pytest.mark.parametrize(
    "ranges", ["bytes=0-1", "bytes=9-1", "bytes=" + "0-,1-," * 500]
)
def test_a_part_of_a_page_is_the_page(ranges, lead_client):
    answer = lead_client.get(reverse("people"), headers={"range": ranges})
    assert answer.status_code in (200, 206, 416)


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("application/json", b"{"),
        ("multipart/form-data", b"no boundary"),
        ("multipart/form-data; boundary=x", b"--x\r\nbroken"),
        ("text/plain; charset=nonsense", b"name=Ana"),
        ("multipart/form-data; boundary=" + "x" * 500, b""),
    ],
)
def test_a_body_that_is_no_form_is_refused_with_words(kind, body, lead_client, shop):
    lead_client.raise_request_exception = False
    answer = lead_client.generic("POST", reverse("person_new"), body, kind)
    assert answer.status_code in (400, 403, 422)
    assert not Person.objects.exclude(key="lena").exists()


def test_more_fields_than_any_form_has_are_refused(lead_client, shop):
    lead_client.raise_request_exception = False
    sent = {f"field-{number}": "x" for number in range(1100)}
    assert lead_client.post(reverse("person_new"), sent).status_code == 413
