"""Start, stop, done, something's wrong, counted in: each sent once or twice."""

import html

import pytest
from django.urls import reverse

from builds.forms.technician import HURT
from builds.models import Event, Kind, State
from tests.assertions import (
    assert_forbidden,
    assert_needs_login,
    assert_one_event,
    is_marked,
)
from tests.factories.job import JobFactory, OutsideJobFactory

ACTS = ("start", "stop", "trouble", "finish", "reopen", "count")
MISSING = "A part is missing"


@pytest.fixture
def press(technician_client):
    def press(act, job, **data):
        address = reverse(f"bench_{act}", args=[job.key])
        page = technician_client.post(address, data, follow=True)
        return page.status_code, html.unescape(page.content.decode())

    return press


@pytest.fixture
def under_way(weld, tom):
    weld.state, weld.started, weld.person = State.UNDER_WAY, "2027-01-11T08:00", None
    weld.save()
    return weld


def test_start_puts_the_job_under_way_in_their_name(press, weld, tom):
    with assert_one_event("started job"):
        status, page = press("start", weld)
    weld.refresh_from_db()
    assert (status, weld.state, weld.person) == (200, State.UNDER_WAY, tom.person)
    assert "“Weld the sill” is under way." in page


def test_start_pressed_twice_is_one_start_and_says_so(press, weld):
    with assert_one_event("started job"):
        press("start", weld)
        _, page = press("start", weld)
    assert "already under way. Nothing was changed." in page


def test_start_is_refused_with_the_reason(press, car, weld):
    later = JobFactory(build=car, title="Paint", trade="panel", after=[weld])
    _, page = press("start", later)
    later.refresh_from_db()
    assert later.state == State.OPEN
    assert "“Paint” waits for “Weld the sill”." in page


def test_stop_keeps_what_is_left(press, under_way):
    with assert_one_event("stopped job"):
        _, page = press("stop", under_way, how="left", left="2h30", words="Rod 3")
    under_way.refresh_from_db()
    assert (under_way.state, under_way.remaining) == (State.UNDER_WAY, 2.5)
    assert "put down with 2 h 30 to go" in page


def test_stop_sent_twice_is_one_stop_and_says_so(press, under_way):
    with assert_one_event("stopped job"):
        press("stop", under_way, how="left", left="2h30")
        _, page = press("stop", under_way, how="left", left="2h30")
    assert "already reached us. Nothing was changed." in page


def test_stop_with_another_figure_is_another_stop(press, under_way):
    press("stop", under_way, how="left", left="2h30")
    press("stop", under_way, how="left", left="1h")
    under_way.refresh_from_db()
    assert under_way.remaining == 1.0


def test_stop_and_done_ends_it_and_offers_to_take_it_back(press, under_way):
    with assert_one_event("finished job"):
        _, page = press("stop", under_way, how="done")
    under_way.refresh_from_db()
    assert under_way.state == State.DONE
    undo = reverse("bench_undo", args=["weld", Event.objects.latest("pk").pk])
    assert f'action="{undo}"' in page


def test_done_pressed_twice_is_one_end_and_offers_nothing_back(press, under_way):
    with assert_one_event("finished job"):
        press("finish", under_way)
        _, page = press("finish", under_way)
    assert "already done. Nothing was changed." in page
    assert "/undo/" not in page.split("<main")[0]


def test_taking_back_done_opens_it_once(press, under_way):
    press("finish", under_way)
    with assert_one_event("reopened job"):
        press("reopen", under_way)
        press("reopen", under_way)
    under_way.refresh_from_db()
    assert under_way.state == State.OPEN


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({}, "Say whether it is done."),
        ({"how": "left"}, "Say how much is left"),
        ({"how": "left", "left": "soon"}, "“soon” is not a length"),
        ({"how": "done", "left": "2h"}, "nothing is left"),
    ],
)
def test_an_answer_nobody_can_read_keeps_the_words(press, under_way, data, words):
    status, page = press("stop", under_way, words="Two bolts sheared", **data)
    assert status == 422
    assert words in page
    assert "Two bolts sheared" in page
    assert is_marked(page, "stop", "open")
    assert not Event.objects.exists()


def test_trouble_is_written_down_for_the_lead_once(press, weld):
    with assert_one_event("reported trouble"):
        _, page = press("trouble", weld, reason=MISSING, words="Left bracket")
        press("trouble", weld, reason=MISSING, words="Left bracket")
    assert "Written down for the lead: a part is missing." in page
    event = Event.objects.get()
    assert (event.after["reason"], event.words) == (MISSING, "Left bracket")


def test_somebody_hurt_comes_before_the_paper(press, weld):
    _, page = press("trouble", weld, reason=HURT)
    assert "See to the person first" in page


def test_trouble_without_a_reason_is_asked_again(press, weld):
    status, page = press("trouble", weld, words="Left bracket")
    assert status == 422
    assert "Left bracket" in page


@pytest.mark.parametrize("state", [State.UNDER_WAY, State.OPEN])
def test_pieces_are_counted_in_once(press, car, state):
    """A plan file may say that it was sent and leave the state out."""
    zinc = OutsideJobFactory(build=car, sent="2027-01-04", state=state, pieces=9)
    with assert_one_event("checked in pieces"):
        _, page = press("count", zinc, back=7, noted=9, words="Two short")
        press("count", zinc, back=7, noted=9, words="Two short")
    zinc.refresh_from_db()
    assert (zinc.pieces_back, zinc.pieces_noted) == (7, 9)
    assert zinc.state != State.DONE
    assert "7 pieces counted in" in page


@pytest.mark.parametrize("kind", [Kind.OUTSIDE, Kind.ORDER, Kind.DECISION, Kind.MARK])
@pytest.mark.parametrize("act", ["start", "finish"])
def test_only_work_of_the_bench_is_acted_on(press, car, kind, act):
    job = JobFactory(build=car, kind=kind)
    _, page = press(act, job)
    job.refresh_from_db()
    assert job.state == State.OPEN
    assert "is not work of the bench" in page


@pytest.mark.parametrize("act", ACTS)
def test_an_act_is_for_technicians_and_never_a_look(
    act, weld, technician_client, lead_client, customer_client, client
):
    address = reverse(f"bench_{act}", args=["weld"])
    assert technician_client.get(address).status_code == 405
    assert_forbidden(lead_client.post(address))
    assert_forbidden(customer_client.post(address))
    assert_needs_login(client.post(address))
    assert not Event.objects.exists()
