"""The chase list: who to ring, what to ask, and what came of it."""

import re
from datetime import date

import pytest
from django.urls import reverse

from builds.models import Event, Forecast, ForecastState, Job, Kind, Promise
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import words_of
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.vendor import VendorFactory

RING = reverse("ring")
OUT = {"state": "under way", "started": "2027-01-04T08:00", "sent": "2027-01-04"}


@pytest.fixture
def plater(shop):
    return VendorFactory(key="plater", name="Brindle", phone="01632 960001")


@pytest.fixture
def out(car, plater):
    """Make jobs that are out; today is Monday 11 January 2027."""

    def out(key, promised, **facts):
        return OutsideJobFactory(
            key=key, title=key, build=car, vendor=plater, promised=promised,
            **(OUT | facts),
        )  # fmt: skip

    return out


def page(client, **data):
    text = re.sub(r"<[^>]+>", " ", words_of(client.get(RING, data)))
    return " ".join(text.split())


def test_each_promise_stands_under_its_heading(lead_client, out, car):
    out("late", "2027-01-08")
    out("today", "2027-01-11")
    out("friday", "2027-01-15")
    out("june", "2027-06-15")
    out("undated", None)
    JobFactory(
        build=car, kind=Kind.DECISION, title="Leather", state="under way",
        started="2026-12-18T09:00",
    )  # fmt: skip
    found = page(lead_client)
    order = [
        "Overdue", "late , Grey coupe. Promised Fri 8 Jan, 3 days over.",
        "Due today", "today , Grey coupe", "Is it ready to collect today?",
        "Due this week", "Is Fri 15 Jan still good?",
        "No date, or no answer", "Carla Leather , Grey coupe. Asked, no answer yet.",
        "Which day? “Any day now” is not one.",
    ]  # fmt: skip
    where = [found.index(words) for words in order]
    assert where == sorted(where)
    assert "june" not in found
    assert "01632 960001" in found


def test_in_each_part_what_moves_a_show_most_comes_first(lead_client, out):
    out("little", "2027-01-07")
    out("much", "2027-01-08")
    row = {"show": "summer", "probability_now": 0.19}
    answer = {
        "now": "2027-01-11T08:00",
        "jobs": {},
        "shows": {"summer": {"name": "Summer show"}},
        "moves_show": [
            row | {"job": "much", "gain_probability": 0.09, "probability_then": 0.28},
            row | {"job": "little", "gain_probability": 0.02, "probability_then": 0.21},
        ],
    }
    Forecast.objects.create(state=ForecastState.DONE, input_hash="x", answer=answer)
    found = page(lead_client)
    assert found.index("much ,") < found.index("little ,")
    assert "the chance of Summer show goes from 19 to 28 in 100" in found


def test_the_count_and_the_slips_are_asked_about(lead_client, out):
    job = out("frame", "2027-01-08", pieces=22, pieces_noted=21, pieces_back=3)
    # Moved to a later day twice; no date in between is no slip.
    for day in ("2026-12-20", None, "2027-01-04", "2027-01-08"):
        Promise.objects.create(job=job, date=day, given="2026-12-10", said="Honest")
    found = page(lead_client)
    assert "22 went out, their note says 21: ask them to count." in found
    assert "3 of 22 are back: when do the others follow?" in found
    assert "Date moved 2 times" in found
    assert "Last word Thu 10 Dec: “Honest”" in found


def log(client, key, **typed):
    return client.post(reverse("ring_log", args=[key]), typed, follow=True)


def test_a_call_is_taken_down_from_the_list(lead_client, out):
    out("late", "2027-01-08")
    with assert_one_event("recorded promise"):
        answer = log(
            lead_client, "late",
            asked="Where is it", said="Bath was down", speaker="Joan", promised="fri",
        )  # fmt: skip
    assert "“late” is promised for Fri 15 Jan 2027." in words_of(answer)
    kept = Promise.objects.get()
    assert (kept.date, kept.given) == (date(2027, 1, 15), date(2027, 1, 11))
    assert (kept.asked, kept.said, kept.speaker) == (
        "Where is it", "Bath was down", "Joan",
    )  # fmt: skip
    assert kept.by == "lena"
    assert Job.objects.get().promised == date(2027, 1, 15)


@pytest.mark.parametrize("typed", ["any day now", "Any day now.", "soon", "not sure"])
def test_any_day_now_is_no_date(lead_client, out, typed):
    out("late", "2027-01-08")
    answer = log(lead_client, "late", promised=typed)
    assert "taken down, with no date" in words_of(answer)
    kept = Promise.objects.get()
    assert (kept.date, kept.said) == (None, typed)
    assert Job.objects.get().promised is None


def test_a_call_with_nothing_in_it_is_refused_and_kept(lead_client, out):
    out("late", "2027-01-08")
    answer = log(lead_client, "late", asked="Where is it")
    assert answer.status_code == 422
    text = words_of(answer)
    assert "Write the day, or what they said instead." in text
    assert 'value="Where is it"' in text
    assert not Promise.objects.exists()


def test_what_was_typed_about_something_no_longer_listed_is_kept(lead_client, out):
    out("june", "2027-06-15")
    answer = log(lead_client, "june", promised="never on a sunday")
    assert answer.status_code == 422
    assert 'value="never on a sunday"' in words_of(answer)
    assert "no longer on this list" in words_of(answer)


def test_nobody_to_ring_says_so(lead_client, shop):
    assert "Nothing is overdue, due this week or unanswered." in page(lead_client)
    assert not Event.objects.exists()


def test_the_list_asks_no_more_for_more_calls(
    lead_client, out, django_assert_max_num_queries
):
    out("one", "2027-01-08")
    lead_client.get(RING)
    for number in range(6):
        out(f"more-{number}", "2027-01-08")
    with django_assert_max_num_queries(16):
        lead_client.get(RING)


def test_the_page_of_a_vendor_says_what_to_ring_about(lead_client, out):
    out("late", "2027-01-08")
    OutsideJobFactory(title="elsewhere", promised="2027-01-08", **OUT)
    text = words_of(lead_client.get(reverse("vendor", args=["plater"])))
    part = text.split("To ring about")[1].split("With them now")[0]
    assert "Promised Fri 8 Jan, 3 days over." in part
    assert "elsewhere" not in part


def test_what_a_vendor_has_begun_is_out_though_no_day_was_noted(lead_client, out):
    out("shell", None, sent=None)
    assert "shell , Grey coupe. No date given" in page(lead_client)
    gone = words_of(lead_client.get(reverse("out")))
    assert "shell" in gone
    assert "Mon 4 Jan" in gone
