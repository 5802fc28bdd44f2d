"""The filters of the pages, and messages that can be taken back."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from django.contrib.messages import constants
from django.contrib.messages.storage.base import Message
from django.template import Context, Template
from django.template.loader import render_to_string
from django.utils import timezone


def say(text: str, **facts) -> str:
    return Template("{% load show %}" + text).render(Context(facts)).strip()


def test_a_stored_instant_is_shown_on_the_wall_clock_of_the_workshop():
    # London keeps British Summer Time from the last Sunday of March (tz database).
    with timezone.override(ZoneInfo("Europe/London")):
        at = datetime(2027, 6, 11, 15, tzinfo=UTC)
        assert say("{{ at|moment }}", at=at) == "Fri 11 Jun, 16:00"
        assert say("{{ at|clock }}", at="2027-06-11T15:00") == "15:00"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("{{ 2.5|hours }}", "2 h 30"),
        ("{{ 3|days }}", "3 working days"),
        ("{{ 1|counted:'job,jobs' }}", "1 job"),
        ("{{ 0.74|in_100 }}, {{ 0.74|odds_word }}", "74 in 100, likely"),
        ("{% day_range '2027-06-03' '2027-06-18' %}", "3 to 18 June"),
        ("{{ 10.4|offset:-3 }}", "7.4"),
    ],
)
def test_filters(text, shown):
    assert say(text) == shown


def test_a_message_that_can_be_undone_posts_there():
    words = Message(constants.SUCCESS, "Done.", extra_tags="undo:/jobs/1/reopen/")
    page = render_to_string("_parts/messages.html", {"messages": [words]})
    assert '<form method="post" action="/jobs/1/reopen/">' in page
    assert "Undo" in page


def test_a_plain_message_offers_nothing():
    words = Message(constants.INFO, "Done <b>.")
    page = render_to_string("_parts/messages.html", {"messages": [words], "oob": True})
    assert "<form" not in page
    assert "Done &lt;b&gt;." in page
    assert 'hx-swap-oob="true"' in page


def test_a_number_is_dialled_by_its_digits_and_shown_as_written():
    shown = render_to_string("_parts/phone.html", {"number": "+44 (1632) 960-001"})
    assert 'href="tel:+441632960001"' in shown
    assert ">+44 (1632) 960-001</a>" in shown
