"""Who works here, what they may do and when they are away."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.models import DaysAway, Event, Person, WorkCalendar
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.people import PersonFactory


def page(client, person):
    return words_of(client.get(reverse("person", args=[person.key])))


def trades(client, person, *rows):
    typed = {"trades-TOTAL_FORMS": len(rows), "trades-INITIAL_FORMS": 0}
    for number, row in enumerate(rows):
        for name, value in zip(("trade", "level", "pace"), row, strict=True):
            typed[f"trades-{number}-{name}"] = value
    return client.post(reverse("person_trades", args=[person.key]), typed)


def away(client, person, first, last=""):
    typed = {"away-first": first, "away-last": last}
    return client.post(reverse("days_away_add", args=[person.key]), typed)


def test_everybody_is_on_the_list(lead_client, tom, django_assert_max_num_queries):
    PersonFactory(key="mia", name="Mia", trades=["panel"], left_out=True)
    DaysAway.objects.create(
        person=tom.person, first=date(2027, 2, 8), last=date(2027, 2, 12)
    )
    lead_client.get(reverse("people"))  # the first look of a visit is noted down
    with django_assert_max_num_queries(14):
        shown = words_of(lead_client.get(reverse("people")))
    for word in ("Tom", "Mia", "signs off", "left out", "8 to 12 February"):
        assert word in shown


def test_the_list_asks_no_more_for_more_people(lead_client, django_assert_num_queries):
    lead_client.get(reverse("people"))
    with CaptureQueriesContext(connection) as few:
        lead_client.get(reverse("people"))
    for number in range(5):
        PersonFactory(key=f"p{number}", trades=["panel", "weld"])
    with django_assert_num_queries(len(few)):
        lead_client.get(reverse("people"))


def test_a_list_without_anybody_says_what_it_is_for(lead_client):
    Person.objects.all().delete()
    shown = words_of(lead_client.get(reverse("people")))
    assert "Nobody yet" in shown
    assert reverse("person_new") in shown


def test_someone_is_taken_on(lead_client):
    week = WorkCalendar.objects.get()
    with assert_one_event("created person"):
        lead_client.post(reverse("person_new"), {"name": "Mia", "calendar": week.key})
    assert Person.objects.get(name="Mia").calendar == week


def test_facts_are_changed(lead_client, tom):
    with assert_one_event("changed person"):
        lead_client.post(
            reverse("person", args=["tom"]), {"name": "Thomas", "note": "a\r\nb"}
        )
    person = Person.objects.get(key="tom")
    assert (person.name, person.note, person.calendar) == ("Thomas", "a\nb", None)


def test_a_bad_form_keeps_what_was_typed(lead_client, tom):
    response = lead_client.post(
        reverse("person", args=["tom"]), {"name": "", "note": "kept"}
    )
    assert_refused_on_the_page(response, "Name: Fill this in.")
    assert "kept</textarea>" in words_of(response)
    assert Person.objects.get(key="tom").name == "Tom"


def test_trades_are_set_anew(lead_client, tom):
    with assert_one_event("set trades"):
        trades(lead_client, tom.person, ("weld", "3", "1,5"), ("panel", "", ""))
    rows = tom.person.trades.values_list("trade", "level", "pace")
    assert list(rows) == [("weld", 3, 1.5)]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([("weld", "3", ""), ("weld", "2", "")], "“weld” is there twice."),
        ([("weld", "3", "-1")], "Pace: Write 0.01 or more."),
        ([("weld", "9", "")], "Level: Select a valid choice."),
        ([("we\0ld", "3", "")], "cannot be kept"),
    ],
)
def test_bad_trades_are_refused(lead_client, tom, rows, words):
    assert_refused_on_the_page(trades(lead_client, tom.person, *rows), words)
    assert [one.trade for one in tom.person.trades.all()] == ["panel"]


def test_trades_sent_by_hand_are_no_error_page(lead_client, tom):
    address = reverse("person_trades", args=["tom"])
    for typed in ({}, {"trades-TOTAL_FORMS": "x"}, {"trades-TOTAL_FORMS": 10**9}):
        assert lead_client.post(address, typed).status_code == 422


def test_days_away_are_noted_and_taken_back(lead_client, tom):
    with assert_one_event("added days away"):
        away(lead_client, tom.person, "fri", "18 jan")
    row = DaysAway.objects.get()
    assert (row.first, row.last) == (date(2027, 1, 15), date(2027, 1, 18))
    assert "from Fri 15 Jan 2027 to Mon 18 Jan 2027" in page(lead_client, tom.person)
    undo = reverse("days_away_remove", args=["tom", row.pk])
    shown = words_of(lead_client.post(undo, follow=True))
    assert not DaysAway.objects.exists()
    put_back = shown.split(f'action="{reverse("days_away_add", args=["tom"])}?')[1]
    lead_client.post(
        f"{reverse('days_away_add', args=['tom'])}?{put_back.split(chr(34))[0]}"
    )
    row = DaysAway.objects.get()
    assert (row.first, row.last) == (date(2027, 1, 15), date(2027, 1, 18))


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("fri", "wed", "The last day is before the first."),
        ("", "fri", "First day: Fill this in."),
        ("32 jan", "", "There is no 32 January"),
        ("fri\0", "", "cannot be kept"),
    ],
)
def test_bad_days_are_refused_and_kept(lead_client, tom, first, last, words):
    response = away(lead_client, tom.person, first, last)
    assert_refused_on_the_page(response, words)
    assert not DaysAway.objects.exists()
    assert not Event.objects.exists()


def test_days_of_somebody_else_are_not_taken_away(lead_client, tom, lena):
    row = DaysAway.objects.create(
        person=lena.person, first=date(2027, 2, 8), last=date(2027, 2, 12)
    )
    address = reverse("days_away_remove", args=["tom", row.pk])
    assert lead_client.post(address).status_code == 404
    assert DaysAway.objects.exists()


def test_someone_is_left_out_and_put_back(lead_client, tom):
    with assert_one_event("left out person"):
        shown = words_of(
            lead_client.post(reverse("person_leave_out", args=["tom"]), follow=True)
        )
    assert f'action="{reverse("person_restore", args=["tom"])}"' in shown
    lead_client.post(reverse("person_restore", args=["tom"]))
    assert not Person.objects.get(key="tom").left_out


def test_trades_in_use_are_suggested(lead_client, tom, lena):
    PersonFactory(key="mia", trades=["upholstery"])
    assert '<option value="upholstery">' in page(lead_client, tom.person)
