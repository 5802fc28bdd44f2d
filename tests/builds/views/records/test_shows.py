"""Shows in the diary and the cars entered."""

from datetime import datetime

import pytest
from django.urls import reverse

from builds.models import Show, ShowEntry
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.show import ShowFactory


@pytest.fixture
def summer(shop):
    return ShowFactory(key="summer", name="Summer show")


def enter(client, **typed):
    return client.post(reverse("entry_add", args=["summer"]), typed)


def test_a_show_is_put_in_the_diary(lead_client, shop):
    typed = {"name": "Summer", "move_in": "11 jun 4pm"}
    with assert_one_event("created show"):
        lead_client.post(reverse("show_new"), typed)
    assert Show.objects.get().move_in == datetime(2027, 6, 11, 16)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("11 jun", "Which time on that day?"),
        ("", "Fill this in."),
        ("june", "is not a day"),
    ],
)
def test_a_move_in_needs_a_day_and_a_time(lead_client, summer, typed, words):
    response = lead_client.post(
        reverse("show", args=["summer"]), {"name": "Kept", "move_in": typed}
    )
    assert_refused_on_the_page(response, words)
    assert 'value="Kept"' in words_of(response)
    assert Show.objects.get().name == "Summer show"


def test_a_show_is_moved(lead_client, summer):
    with assert_one_event("changed show"):
        lead_client.post(
            reverse("show", args=["summer"]),
            {"name": "Summer show", "move_in": "12/6/27 8:00"},
        )
    summer.refresh_from_db()
    assert summer.move_in == datetime(2027, 6, 12, 8)


def test_a_car_is_entered_changed_and_withdrawn(lead_client, summer, car):
    with assert_one_event("entered build"):
        enter(lead_client, build="coupe", level="running")
    enter(lead_client, build="coupe", level="")
    entry = ShowEntry.objects.get()
    assert (entry.build, entry.level) == (car, None)
    assert "to be complete" in words_of(
        lead_client.get(reverse("show", args=["summer"]))
    )
    with assert_one_event("withdrew build"):
        lead_client.post(reverse("entry_withdraw", args=["summer", entry.pk]))
    assert not ShowEntry.objects.exists()
    again = lead_client.post(reverse("entry_withdraw", args=["summer", entry.pk]))
    assert again.status_code == 404


@pytest.mark.parametrize(
    "typed", [{}, {"build": "x\0"}, {"build": "coupe", "level": "?"}]
)
def test_a_bad_entry_is_refused(lead_client, summer, car, typed):
    assert enter(lead_client, **typed).status_code == 422
    assert not ShowEntry.objects.exists()


def test_a_show_is_cancelled_with_the_way_back(lead_client, summer, car):
    enter(lead_client, build="coupe")
    shown = words_of(
        lead_client.post(reverse("show_cancel", args=["summer"]), follow=True)
    )
    assert f'action="{reverse("show_restore", args=["summer"])}"' in shown
    assert Show.objects.get().left_out
    lead_client.post(reverse("show_restore", args=["summer"]))
    assert not Show.objects.get().left_out


def test_no_shows_yet_says_what_they_are_for(lead_client, shop):
    page = words_of(lead_client.get(reverse("shows")))
    assert "No shows yet" in page
    assert reverse("show_new") in page
