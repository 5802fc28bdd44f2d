"""Who changed this and when, one step from the car."""

from __future__ import annotations

import pytest
from django.urls import reverse

from builds.actions.builds import leave_out_build, restore_build
from builds.actions.jobs import change_job
from builds.actions.people import create_person
from builds.models import Event
from tests.builds.views.records.pages import words_of
from tests.factories.job import JobFactory


@pytest.fixture
def changed(lena, car, other_car):
    job = JobFactory(key="sand", title="Sand", build=car, likely=2.0)
    his = JobFactory(key="his", title="His job", build=other_car)
    change_job(by=lena, job=job, fields={"likely": 3.0})
    change_job(by=lena, job=his, fields={"note": "x"})
    create_person(by=lena, name="Ana")


def test_a_car_tells_who_changed_what_from_what_to_what(lead_client, changed):
    assert reverse("car_record", args=["coupe"]) in words_of(
        lead_client.get(reverse("car", args=["coupe"]))
    )
    page = words_of(lead_client.get(reverse("car_record", args=["coupe"])))
    assert "lena changed it" in page
    assert "The likely figure: from 2 h of work to 3 h of work" in page
    assert "His job" not in page


def test_the_workshop_tells_everything(lead_client, changed):
    page = words_of(lead_client.get(reverse("record")))
    for words in ("Sand", "His job", "added the person: Ana"):
        assert words in page


def test_a_car_left_out_and_put_back_is_told_as_people_say_it(lead_client, lena, car):
    leave_out_build(by=lena, build=car)
    restore_build(by=lena, build=car)
    page = words_of(lead_client.get(reverse("car_record", args=["coupe"])))
    assert "lena left the car out of the plan: Grey coupe." in page
    assert "lena put the car back into the plan: Grey coupe." in page


def test_older_ones_are_behind_and_none_is_lost(lead_client, lena, car):
    Event.objects.bulk_create(
        Event(by=lena, verb="changed car", subject=f"Act {n}.", build=car)
        for n in range(250)
    )
    seen, where = [], reverse("record")
    while where:
        page = lead_client.get(where).context["page"]
        seen += [line.subject for line in page.lines]
        where = page.older and f"{reverse('record')}?before={page.older}"
    assert seen == [f"Act {n}." for n in reversed(range(250))]


@pytest.mark.parametrize("asked", ["x", "-1", "", "9" * 30, "1.5", "٣"])
def test_whatever_is_asked_for_is_answered(lead_client, changed, asked):
    answer = lead_client.get(reverse("record"), {"before": asked})
    assert answer.status_code == 200


def test_it_takes_no_more_questions_for_more_lines(
    lead_client, lena, car, django_assert_max_num_queries
):
    for number in range(30):
        job = JobFactory(key=f"j{number}", build=car)
        Event.objects.create(
            by=lena, verb="changed job", subject="x", job=job, build=car,
            before={"person": "tom"}, after={"person": "ana"},
        )  # fmt: skip
    with django_assert_max_num_queries(15):
        lead_client.get(reverse("record"))
