"""The whole plan out and in, and the workshop's settings."""

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from builds.forms import exchange
from builds.models import Build, Event, Job, Workshop
from builds.planning.exchange import export_plan
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.job import JobFactory


def send(client, content, **typed):
    file = SimpleUploadedFile("plan.json", content)
    return client.post(reverse("exchange"), {"file": file} | typed)


def test_the_plan_goes_out_and_comes_in_the_same(lead_client, car):
    JobFactory(key="weld", build=car, title="Weld")
    response = lead_client.get(reverse("plan_download"))
    assert response["Content-Disposition"] == (
        'attachment; filename="workshop-plan-2027-01-11.json"'
    )
    assert json.loads(response.content)["jobs"][0]["id"] == "weld"
    before = export_plan()
    Job.objects.all().delete()
    with assert_one_event("replaced plan"):
        assert send(lead_client, response.content).status_code == 302
    Workshop.objects.update(now="2027-01-11T08:00")
    assert export_plan() == before


def test_every_problem_of_a_bad_file_is_listed_and_nothing_saved(lead_client, car):
    bad = {
        "format": "workshop-plan", "version": 1, "now": "2027-01-11T08:00",
        "jobs": [
            {"id": "a", "estimate": {"likely": 1}, "after": ["gone"]},
            {"id": "b", "estimate": {"likely": 1}, "vendor": "nobody"},
        ],
    }  # fmt: skip
    response = send(lead_client, json.dumps(bad).encode())
    page = words_of(response)
    assert response.status_code == 422
    assert "<title>Problem: " in page
    assert "gone" in page
    assert "nobody" in page
    assert "2 things are wrong in the file" in page
    assert list(Build.objects.all()) == [car]
    assert not Event.objects.exists()


@pytest.mark.parametrize(
    "content",
    [
        b"{", b"[]", b"null", b"\xff\xfe\x00", b'{"now": NaN}', b"[" * 100_000,
        b'{"format": "workshop-plan", "version": 1, "now": "2027-01-11T08:00\x00"}',
    ],
    ids=range(7),
)  # fmt: skip
def test_what_is_no_plan_is_refused_in_words(lead_client, car, content):
    response = send(lead_client, content)
    assert response.status_code == 422
    assert "Nothing is changed" in words_of(response)
    assert list(Build.objects.all()) == [car]


def test_no_file_or_an_empty_one_is_said(lead_client, car):
    nothing = lead_client.post(reverse("exchange"), {})
    assert_refused_on_the_page(nothing, "Choose a plan file first.")
    assert_refused_on_the_page(send(lead_client, b""), "has nothing in it")


def test_a_file_over_the_limit_is_refused(lead_client, car, monkeypatch):
    assert exchange.LARGEST == 20 * 1024 * 1024
    monkeypatch.setattr(exchange, "LARGEST", 10)
    assert_refused_on_the_page(send(lead_client, b"x" * 11), "The most that is taken")


def test_the_clock_stops_at_the_file_only_if_asked(lead_client, car):
    content = export_plan().encode()
    send(lead_client, content)
    assert Workshop.current().now is None
    send(lead_client, content, pin_clock="on")
    assert Workshop.current().now is not None


FACTS = {
    "name": "Works", "town": "Quill", "timezone": "europe/london", "now": "",
    "reading": "ends", "samples": "2000", "seed": "7",
}  # fmt: skip


def test_the_workshop_is_changed(lead_client):
    with assert_one_event("changed workshop"):
        lead_client.post(reverse("workshop"), FACTS)
    shop = Workshop.current()
    assert (shop.name, shop.timezone, shop.now) == ("Works", "Europe/London", None)
    assert (shop.reading, shop.samples, shop.seed) == ("ends", 2000, 7)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"timezone": "Mars"}, "There is no such time zone."),
        ({"timezone": "../etc/passwd"}, "There is no such time zone."),
        ({"samples": "0"}, "Write 1 or more."),
        ({"seed": str(2**63)}, "or less."),
        ({"seed": "-1"}, "Write 0 or more."),
        ({"now": "soon"}, "is not a day"),
        ({"reading": "guess"}, "is not one of the available choices"),
        ({"name": "\0"}, "cannot be kept"),
    ],
)
def test_bad_settings_are_refused(lead_client, typed, words):
    assert_refused_on_the_page(
        lead_client.post(reverse("workshop"), FACTS | typed), words
    )
    assert Workshop.current().name == "Test workshop"


def test_the_largest_seed_is_kept(lead_client):
    lead_client.post(reverse("workshop"), FACTS | {"seed": str(2**63 - 1)})
    assert Workshop.current().seed == 2**63 - 1
