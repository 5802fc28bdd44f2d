"""Nothing of the plan may have a name under which its page cannot be opened."""

import json

import pytest
from django.urls import get_resolver, reverse

from builds.actions.addresses import PAGES, is_reached
from builds.actions.calendars import create_calendar
from builds.actions.exchange import replace_plan
from builds.models import Build, Job, WorkCalendar
from tests.assertions import assert_refused


@pytest.mark.parametrize("key", ["new", "edit", "a/b", "ü ö", "100% oak", "a?b#c", "-"])
def test_an_odd_name_is_reached(lead_client, shop, key):
    text = json.dumps({"builds": [{"id": key, "name": "Odd one"}]})
    replace_plan(by=None, text=text)
    page = lead_client.get(reverse("car", args=[key]))
    assert page.status_code == 200
    assert "Odd one" in page.content.decode()


@pytest.mark.parametrize("key", ["sills/edit", "a/jobs/new", ".", "..", "a/../b"])
def test_a_car_that_could_not_be_opened_is_refused(shop, key):
    text = json.dumps({"builds": [{"id": key}]})
    with assert_refused("leads elsewhere") as error:
        replace_plan(by=None, text=text)
    assert error.value.faults[0]["where"] == f"builds “{key}”"
    assert not Build.objects.exists()


def test_a_job_is_opened_by_the_lead_and_at_the_bench():
    assert not is_reached(Job, "sills/reopen")
    assert is_reached(Job, "sills/left")


def test_a_week_that_could_not_be_opened_is_refused(lena):
    with assert_refused("“nights/remove” cannot be its name"):
        create_calendar(by=lena, name="nights/remove", week={"mon": ["08:00-09:00"]})


def test_no_word_of_one_step_is_taken():
    """What `is_reached` takes for granted: every list's next step is a row's page."""
    names = [page for _, pages in PAGES.values() for page in pages]
    for page in names:
        address = reverse(page, args=["new"])
        assert get_resolver().resolve(address).url_name == page
    assert is_reached(WorkCalendar, "new")
