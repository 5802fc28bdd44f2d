"""What the server makes of an act that a phone kept and sends later."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.models import Event, SentForm, State
from builds.selectors.job_history import history
from tests.assertions import assert_no_event, assert_one_event
from tests.factories.job import JobFactory

WORD = "0123456789abcdef" * 2
TROUBLE = {"reason": "A part is missing", "words": "Strap"}


@pytest.fixture
def weld(car):
    return JobFactory(key="weld", title="Weld the sill", build=car, trade="panel")


@pytest.fixture
def send(technician_client, weld):
    """Send an act as the phone does."""

    def send(act: str, *, ago: object = 7200, version: int | None = None, **typed):
        heads = {"X-Pressed-Ago": str(ago)}
        if version is not None:
            heads["X-Job-Version"] = str(version)
        address = reverse(f"bench_{act}", args=["weld"])
        return technician_client.post(address, typed, headers=heads)

    return send


def test_it_is_done_and_the_answer_is_short(send, weld):
    answer = send("start", version=weld.version, once=WORD)
    assert (answer.status_code, answer.json()["words"]) == (
        200,
        ["“Weld the sill” is under way."],
    )
    weld.refresh_from_db()
    assert weld.state == State.UNDER_WAY
    assert answer["X-Job-Version"] == str(weld.version)


def test_sent_twice_it_is_done_once_and_answered_alike(send, weld, lena):
    """The answer was lost, and somebody changed the job before the second sending."""
    first = send("start", version=weld.version, once=WORD)
    weld.refresh_from_db()
    weld.version += 5
    weld.save()
    with assert_no_event():
        second = send("start", version=weld.version - 6, once=WORD)
    assert second.status_code == 200
    assert second["X-Job-Version"] == first["X-Job-Version"]


def test_what_the_page_would_have_said_is_not_said_again_later(send, technician_client):
    send("start", once=WORD)
    page = technician_client.get(reverse("bench")).content.decode()
    assert "is under way." not in page


def test_on_a_job_that_has_changed_it_waits_for_a_decision(send, weld):
    with assert_no_event():
        answer = send("start", version=weld.version - 1, once=WORD)
    assert answer.status_code == 409
    assert answer.json()["words"] == [
        "“Weld the sill” has changed since. Look at it, then decide."
    ]
    assert answer["X-Job-Version"] == str(weld.version)
    assert not SentForm.objects.exists()
    assert send("start", version=weld.version, once=WORD).status_code == 200


def test_what_may_not_be_done_is_refused_with_the_reason(send, weld, car):
    weld.links.create(before=JobFactory(key="fit", title="Trial fit", build=car))
    answer = send("start", version=weld.version, once=WORD)
    assert answer.status_code == 409
    assert answer.json()["words"] == ["“Weld the sill” waits for “Trial fit”."]


def test_a_form_that_is_not_sound_comes_back_as_its_page(send):
    assert send("stop", how="left", left="soon", once=WORD).status_code == 422


def test_when_it_was_pressed_is_noted_beside_when_it_came(send, weld):
    with assert_one_event("reported trouble"):
        send("trouble", ago=2 * 3600, **TROUBLE)
    event = Event.objects.first()
    assert event.at - event.pressed_at == pytest.approx(
        timedelta(hours=2), abs=timedelta(seconds=30)
    )
    verb = history(weld)[0].verb
    assert verb == "said something is wrong (pressed 2 h before it reached us)"


@pytest.mark.parametrize("ago", [0, 59, -5, "soon", "", "٣"])
def test_nothing_was_pressed_in_the_time_to_come(send, ago):
    send("trouble", ago=ago, **TROUBLE)
    assert Event.objects.first().pressed_at is None


@pytest.mark.parametrize("ago", [3 * 86400 + 1, 10**9, "9" * 5000 + "x"])
def test_an_act_of_last_week_waits_for_a_decision(send, ago):
    with assert_no_event():
        answer = send("trouble", ago=ago, **TROUBLE)
    assert answer.status_code == 409
    assert "more than three days ago" in answer.json()["words"][0]


def test_an_act_of_the_day_before_yesterday_is_taken(send):
    send("trouble", ago=2 * 86400, **TROUBLE)
    assert timezone.now() - Event.objects.first().pressed_at > timedelta(hours=47)


def test_a_visit_that_is_over_is_asked_to_sign_in(weld):
    address = reverse("bench_start", args=["weld"])
    answer = Client().post(address, headers={"X-Pressed-Ago": "60"})
    assert answer.status_code == 401
    assert answer.json()["words"] == ["Sign in again, and it is sent."]


def test_without_the_fresh_word_nothing_is_taken(tom, weld):
    client = Client(enforce_csrf_checks=True)
    client.force_login(tom)
    word = client.get(reverse("outbox")).json()
    assert word["who"] == str(tom.pk)
    address = reverse("bench_start", args=["weld"])
    heads = {"X-Pressed-Ago": "60"}
    assert client.post(address, headers=heads).status_code == 403
    heads["X-CSRFToken"] = word["token"]
    assert client.post(address, headers=heads).status_code == 200


def test_a_page_without_script_is_answered_with_a_page(technician_client, weld):
    answer = technician_client.post(reverse("bench_start", args=["weld"]))
    assert answer.status_code == 302
