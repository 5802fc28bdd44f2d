"""A technician sees their own weeks day by day; the lead sees everybody's."""

import html
import re

import pytest
from django.urls import reverse

from builds.models import DaysAway, WorkCalendar
from builds.planning.replan import replan
from tests.factories.job import JobFactory
from tests.factories.people import PersonFactory


def words(response):
    assert response.status_code == 200
    text = re.sub(r"<[^>]+>", " ", html.unescape(response.content.decode()))
    return " ".join(text.split())


@pytest.fixture
def look(technician_client):
    def look(key="tom", **data):
        return words(technician_client.get(reverse("hand", args=[key]), data))

    return look


@pytest.fixture
def sill(tom, car):
    """Ten hours from Monday 08:00: that day's eight, and two on Tuesday."""
    facts = {"title": "Weld the sill", "trade": "panel", "likely": 10, "fixed": True}
    job = JobFactory(key="sill", build=car, **facts)
    replan()
    return job


def test_each_day_says_which_job_from_when_to_when(sill, look):
    page = look().split("What from when to when", 1)[1]
    monday, _, tuesday = page.split("Wed 13 Jan")[0].split("Tue 12 Jan")
    assert "08:00 to 16:30 Weld the sill , Grey coupe , until" in monday
    assert "08:00 to 10:00 Weld the sill , Grey coupe" in tuesday
    assert "until" not in tuesday
    assert "10:00 to 16:30 free" in tuesday


def test_a_week_says_how_much_of_it_is_given(sill, look):
    # Ten of five times eight; 11 January 2027 is in ISO week 2.
    assert "11 to 15 January Week 2. 10 of 40 hours given." in look()


def test_days_away_and_closed_days_are_told_apart(sill, tom, look):
    DaysAway.objects.create(person=tom.person, first="2027-01-14", last="2027-01-15")
    WorkCalendar.objects.update(closed=["2027-01-13"])
    replan()
    page = look()
    assert "Wed 13 Jan Closed" in page
    assert "Thu 14 Jan Away" in page
    assert "Sat 16 Jan" not in page


def test_it_turns_to_later_weeks_and_back(sill, technician_client, look):
    assert "8 to 12 February" in look(first="2027-02-08", weeks=1)
    page = technician_client.get(
        reverse("hand", args=["tom"]), {"first": "2027-02-08"}
    ).content.decode()
    assert "first=2027-01-11&amp;weeks=4" in page
    assert "first=2027-03-08&amp;weeks=4" in page


@pytest.mark.parametrize("first", ["2020-01-01", "never", "2027-01-13"])
def test_it_begins_with_this_week_at_the_earliest(sill, look, first):
    assert "11 to 15 January" in look(first=first)


def test_days_gone_by_are_left_out(sill, shop, look):
    shop.now = "2027-01-13T08:00"
    shop.save()
    replan()
    page = look()
    assert "Mon 11 Jan" not in page
    assert "Wed 13 Jan" in page


def test_a_technician_does_not_see_somebody_elses_weeks(sill, technician_client):
    PersonFactory(key="una", name="Una")
    found = technician_client.get(reverse("hand", args=["una"]))
    assert found.status_code == 404


def test_the_lead_sees_them_all_and_is_led_to_the_lead_pages(sill, lead_client):
    page = lead_client.get(reverse("hand", args=["tom"])).content.decode()
    assert f'href="{reverse("job", args=["sill"])}"' in page
    assert f'href="{reverse("person", args=["tom"])}"' in page


def test_a_technician_is_led_to_the_job_card(sill, technician_client):
    page = technician_client.get(reverse("hand", args=["tom"])).content.decode()
    assert f'href="{reverse("bench_job", args=["sill"])}"' in page
    assert f'href="{reverse("job", args=["sill"])}"' not in page
    assert f'href="{reverse("person", args=["tom"])}"' not in page


def test_the_bench_list_leads_to_it(sill, technician_client):
    page = technician_client.get(reverse("bench")).content.decode()
    assert f'href="{reverse("hand", args=["tom"])}"' in page


def test_before_the_first_answer_it_says_so(tom, look):
    assert "The plan has not been worked out yet." in look()


def test_somebody_left_out_has_no_work_and_it_says_so(sill, tom, look):
    tom.person.left_out = True
    tom.person.save()
    replan()
    assert "No work is planned for Tom." in look()
