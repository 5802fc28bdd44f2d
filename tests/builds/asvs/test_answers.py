"""What stands around every answer: headers, cookies, kinds. OWASP ASVS 5.0, V3, V4."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from builds.models import Person
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory

NASTY = "\"><script>alert(1)</script>' onload=x"
SERVED = {
    "PATH": "",
    "SECRET_KEY": "k3y-" * 16 + "0123456789abcdefghij",
    "ALLOWED_HOSTS": "workshop.example",
    "DATABASE_URL": "sqlite://:memory:",
}
ASK = """
import django, json
django.setup()
from django.conf import settings
from django.test import Client
answer = Client().get("/healthz", secure=True, SERVER_NAME="workshop.example")
plain = Client().get("/sign-in/", SERVER_NAME="workshop.example")
print(json.dumps({
    "heads": dict(answer.headers), "moved": plain.status_code, "to": plain["Location"],
    "session": settings.SESSION_COOKIE_NAME, "csrf": settings.CSRF_COOKIE_NAME,
    "secure": [settings.SESSION_COOKIE_SECURE, settings.CSRF_COOKIE_SECURE],
    "debug": settings.DEBUG, "hashers": settings.PASSWORD_HASHERS,
}))
"""


@pytest.fixture(scope="module")
def served():
    """What a served site answers, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        cwd=settings.BASE_DIR,
        env=SERVED | {"DJANGO_SETTINGS_MODULE": "builds.settings"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def test_asvs_3_4_1_browsers_insist_on_https_for_a_year(served):
    told = served["heads"]["Strict-Transport-Security"]
    assert int(told.split("max-age=")[1].split(";")[0]) >= 31_536_000
    assert "includeSubDomains" in told


def test_asvs_12_2_1_nobody_stays_on_plain_http(served):
    assert served["moved"] == 301
    assert served["to"].startswith("https://")


def test_asvs_3_3_1_and_more_cookies_go_to_this_host_alone_and_only_by_https(served):
    assert served["secure"] == [True, True]


def test_asvs_3_3_3_cookies_are_bound_to_the_host(served):
    assert served["session"].startswith("__Host-")
    assert served["csrf"].startswith("__Host-")


def test_asvs_3_3_2_cookies_stay_at_home(client, lena):
    lena.set_password("long enough for one factor")
    lena.save()
    client.post(
        reverse("sign_in"),
        {"username": "lena", "password": "long enough for one factor"},
    )
    for cookie in client.cookies.values():
        assert cookie["samesite"] in ("Lax", "Strict")


def test_asvs_3_3_4_no_script_reads_the_session(client, lena):
    client.force_login(lena)
    assert client.cookies[settings.SESSION_COOKIE_NAME]["httponly"] or (
        settings.SESSION_COOKIE_HTTPONLY
    )


def test_asvs_13_4_2_nothing_of_the_inside_is_shown(served):
    assert served["debug"] is False


def test_asvs_11_4_2_passwords_are_kept_as_slow_hashes(served):
    assert "Argon2" in served["hashers"][0]


def test_asvs_3_2_1_a_file_is_saved_and_not_shown(lead_client, shop):
    answer = lead_client.get(reverse("plan_download"))
    assert answer["Content-Disposition"].startswith("attachment;")


@pytest.mark.parametrize("method", ["get", "head", "options"])
def test_asvs_3_5_3_looking_changes_nothing(method, lead_client, shop):
    JobFactory(key="weld", build=BuildFactory(key="coupe"))
    address = reverse("job_leave_out", args=["weld"])
    assert getattr(lead_client, method)(address).status_code == 405


def test_asvs_3_5_1_a_form_from_elsewhere_is_not_taken(lena):
    client = Client(enforce_csrf_checks=True)
    client.force_login(lena)
    answer = client.post(
        reverse("person_new"), {"name": "Ana"}, headers={"origin": "https://x.example"}
    )
    assert answer.status_code == 403
    assert not Person.objects.filter(name="Ana").exists()


def test_asvs_13_4_4_trace_is_refused(client, db):
    assert client.trace(reverse("sign_in")).status_code == 405


def test_asvs_1_2_1_what_is_typed_is_shown_as_it_was_typed(lead_client, shop):
    car = BuildFactory(key="coupe", name=NASTY)
    JobFactory(key="weld", build=car, title=NASTY)
    for name, key in (("car", "coupe"), ("car_edit", "coupe"), ("job_edit", "weld")):
        text = lead_client.get(reverse(name, args=[key])).content.decode()
        assert "<script>alert" not in text
        assert "&lt;script&gt;alert(1)" in text


def test_asvs_14_2_1_nothing_secret_is_sent_in_an_address(client, shop):
    text = client.get(reverse("sign_in")).content.decode()
    forms = text.split("<form")[1:]
    assert forms
    assert all('method="post"' in one.split(">")[0] for one in forms)
