"""Every act on a job: done once, pressed twice, refused, and not well filled in."""

import pytest
from django.urls import reverse

from builds.forms.technician import HURT, TROUBLES
from builds.models import Event, Kind, PastReturn, State
from builds.selectors.job import acts_of
from tests.assertions import assert_forbidden, assert_one_event
from tests.factories.job import JobFactory, OutsideJobFactory

ACTS = (
    "start",
    "stop",
    "finish",
    "reopen",
    "trouble",
    "leave_out",
    "restore",
    "choice",
    "found",
    "promise",
    "send",
    "count",
    "back",
)


@pytest.fixture
def under_way(weld):
    weld.state, weld.started = State.UNDER_WAY, "2027-01-11T08:00"
    weld.save()
    return weld


@pytest.fixture
def away(plating):
    plating.state, plating.started = State.UNDER_WAY, "2027-01-04T08:00"
    plating.sent, plating.pieces = "2027-01-04", 12
    plating.save()
    return plating


@pytest.fixture
def leather(car):
    return JobFactory(key="leather", title="Leather", build=car, kind=Kind.DECISION)


@pytest.fixture
def extra(car):
    return JobFactory(key="extra", title="Rotten floor", build=car, found="asked")


def state_of(job):
    job.refresh_from_db()
    return job.state


def test_start_then_finish_then_undo(press, weld):
    assert press("start", weld)[0] == 302
    assert state_of(weld) == State.UNDER_WAY
    _, page = press("finish", weld)
    assert state_of(weld) == State.DONE
    assert "“Weld the sill” is done." in page
    undo = reverse("job_undo", args=["weld", Event.objects.latest("pk").pk])
    assert f'action="{undo}"' in page.split("<main")[0]
    press("reopen", weld)
    assert state_of(weld) == State.OPEN


@pytest.mark.parametrize("act", ["start", "finish", "leave_out"])
def test_a_second_press_changes_nothing_and_says_so(press, weld, act):
    press(act, weld)
    events = Event.objects.count()
    _, page = press(act, weld)
    assert Event.objects.count() == events
    assert "Nothing was changed." in page


def test_what_waits_is_refused_with_the_reason(press, paint):
    status, page = press("finish", paint)
    assert status == 409
    assert "“Paint” waits for “Weld the sill”." in page
    assert state_of(paint) == State.OPEN
    assert not Event.objects.exists()


def test_stop_keeps_what_is_left_as_it_is_typed(press, under_way):
    with assert_one_event("stopped job"):
        _, page = press("stop", under_way, left="2h30", words="Rod 3")
        press("stop", under_way, left="2h30", words="Rod 3")
    under_way.refresh_from_db()
    assert under_way.remaining == 2.5
    assert "put down with 2 h 30 to go" in page


def test_what_cannot_be_read_comes_back_as_typed(press, under_way):
    status, page = press("stop", under_way, left="a while", words="Rod 3")
    assert status == 422
    assert 'value="a while"' in page
    assert "Rod 3" in page
    assert 'id="stop" open' in page


def test_what_is_refused_keeps_what_was_typed(press, weld):
    status, page = press("stop", weld, left="2h30", words="Rod 3")
    assert status == 409
    assert "“Weld the sill” is not under way." in page
    assert state_of(weld) == State.OPEN


def test_refused_words_stay_in_the_open_form(press, away):
    status, page = press("count", away, back="13", words="In two boxes")
    assert status == 409
    assert "12 went out; 13 cannot be back." in page
    assert "In two boxes" in page
    assert 'id="count" open' in page


def test_trouble_is_written_down_once(press, weld):
    with assert_one_event("reported trouble"):
        press("trouble", weld, reason=TROUBLES[0], words="No rod")
        press("trouble", weld, reason=TROUBLES[0], words="No rod")


def test_somebody_hurt_comes_before_the_paper(press, weld):
    _, page = press("trouble", weld, reason=HURT)
    assert "See to the person first." in page


def test_leaving_out_names_what_sat_after_it_and_so_does_putting_back(
    look, press, weld, paint
):
    assert "no longer wait for it, but keep what it waits for: Paint." in look(weld)
    _, page = press("leave_out", weld, words="The customer keeps the old sill")
    assert state_of(weld) == State.LEFT_OUT
    assert "“Paint” no longer wait for it" not in page
    assert "No longer waiting for it: “Paint”." in page
    assert "Put back, these wait for it again: Paint." in page
    _, page = press("restore", weld)
    assert state_of(weld) == State.OPEN
    assert "Waiting for it: “Paint”." in page


def test_a_safety_job_is_never_left_out(look, press, weld):
    weld.safety = True
    weld.save()
    assert reverse("job_leave_out", args=["weld"]) not in look(weld)
    status, page = press("leave_out", weld)
    assert status == 409
    assert "It is never left out." in page


def test_a_choice_closes_the_question_once(press, leather):
    with assert_one_event("recorded choice"):
        _, page = press("choice", leather, choice="Oxblood", words="By telephone")
        press("choice", leather, choice="Green")
    assert state_of(leather) == State.DONE
    assert "“Leather”: Oxblood." in page
    assert Event.objects.get().after["choice"] == "Oxblood"


@pytest.mark.parametrize(
    ("answer", "found", "state"),
    [("yes", "yes", State.OPEN), ("no", "no", State.LEFT_OUT)],
)
def test_found_work_is_in_or_out_by_the_customers_word(
    press, extra, answer, found, state
):
    with assert_one_event("answered found work"):
        press("found", extra, answer=answer)
        press("found", extra, answer=answer)
    assert (state_of(extra), extra.found) == (state, found)


def test_a_vendor_job_goes_out_is_counted_and_comes_back(press, plating):
    press("send", plating, sent="4 jan 2027", pieces="12")
    plating.refresh_from_db()
    assert (str(plating.sent), plating.pieces) == ("2027-01-04", 12)
    press("count", plating, back="12", noted="12")
    plating.refresh_from_db()
    assert plating.pieces_back == 12
    _, page = press("back", plating)
    assert state_of(plating) == State.DONE
    assert "“Zinc” is back and accepted." in page
    assert PastReturn.objects.count() == 1


@pytest.mark.parametrize(
    ("act", "verb", "data"),
    [
        ("count", "checked in pieces", {"back": "7", "noted": "12"}),
        ("back", "booked back", {}),
        ("promise", "recorded promise", {"promised": "20 jan 2027", "said": "Ida"}),
    ],
)
def test_outside_acts_sent_twice_are_one(press, away, act, verb, data):
    with assert_one_event(verb):
        press(act, away, **data)
        press(act, away, **data)


def test_what_was_sent_by_a_plan_file_can_be_counted_in(press, car):
    """Its state is open there: only the day it was sent is told."""
    zinc = OutsideJobFactory(build=car, sent="2027-01-04", pieces=12)
    with assert_one_event("checked in pieces"):
        press("send", zinc, sent="8 jan 2027")
        assert press("count", zinc, back="7")[0] == 302
    zinc.refresh_from_db()
    assert (str(zinc.sent), zinc.pieces_back) == ("2027-01-04", 7)


def test_every_date_is_kept_and_no_date_is_one_too(press, away):
    press("promise", away, promised="20 jan 2027", said="Ida at the counter")
    press("promise", away, no_date="on", said="Ring on Monday")
    away.refresh_from_db()
    assert away.promised is None
    assert [str(one) for one in away.promises.all()] == ["2027-01-20", "no date"]


@pytest.mark.parametrize("data", [{}, {"promised": "20 jan", "no_date": "on"}])
def test_a_date_or_none_but_not_both(press, away, data):
    status, _ = press("promise", away, said="Ida", **data)
    assert status == 422
    assert not away.promises.exists()


@pytest.mark.parametrize(
    ("facts", "acts"),
    [
        ({}, {"start", "finish", "trouble", "leave_out"}),
        ({"state": State.DONE}, {"reopen"}),
        ({"state": State.LEFT_OUT}, {"restore"}),
        ({"state": State.UNDER_WAY}, {"stop", "finish", "trouble", "leave_out"}),
        ({"kind": Kind.DECISION}, {"choice", "trouble", "leave_out"}),
        ({"kind": Kind.MARK}, {"finish", "trouble", "leave_out"}),
        ({"kind": Kind.ORDER}, {"send", "promise", "trouble", "leave_out"}),
        (
            {"kind": Kind.OUTSIDE, "sent": "2027-01-04"},
            {"count", "back", "promise", "trouble", "leave_out"},
        ),
        ({"safety": True}, {"start", "finish", "trouble"}),
        ({"found": "asked"}, {"start", "finish", "found", "trouble", "leave_out"}),
    ],
)
def test_the_acts_fit_how_far_it_has_got(car, facts, acts):
    job = JobFactory(build=car, **facts)
    assert acts_of(job, held=False) == acts


def test_nothing_is_begun_while_work_before_it_is_open(look, paint):
    page = look(paint)
    assert reverse("job_start", args=["paint"]) not in page
    assert reverse("job_finish", args=["paint"]) not in page


@pytest.mark.parametrize("act", ACTS)
def test_only_the_lead_may(technician_client, customer_client, weld, act):
    where = reverse(f"job_{act}", args=["weld"])
    for client in (technician_client, customer_client):
        assert_forbidden(client.post(where))


@pytest.mark.parametrize("act", ACTS)
def test_a_look_is_not_an_act(lead_client, weld, act):
    where = reverse(f"job_{act}", args=["weld"])
    assert lead_client.get(where).status_code == 405
