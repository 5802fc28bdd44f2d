"""Undo beside the message and in the job's history, for the lead and at the bench."""

from html import unescape

import pytest
from django.urls import reverse

from builds.models import Event, Job, State
from tests.assertions import assert_one_event
from tests.factories.job import JobFactory


@pytest.fixture
def weld(car):
    return JobFactory(key="weld", title="Weld", build=car, trade="panel")


def page_of(client, name, *args, **typed):
    response = client.post(reverse(name, args=args), typed, follow=True)
    return unescape(response.content.decode())


def undo_in(part: str) -> str:
    return part.split("/undo/")[1].split("/")[0]


def test_the_lead_undoes_from_the_message(lead_client, weld):
    page = page_of(lead_client, "job_start", "weld")
    number = undo_in(page.split("<main")[0])
    with assert_one_event("took back"):
        page = page_of(lead_client, "job_undo", "weld", number)
    assert "“Weld” is as it was before." in page
    assert "took back: started it" in page
    assert "/undo/" not in page
    weld.refresh_from_db()
    assert weld.state == State.OPEN


def test_the_lead_undoes_from_the_history(lead_client, weld):
    page_of(lead_client, "job_start", "weld")
    page = unescape(lead_client.get(reverse("job", args=["weld"])).content.decode())
    history = page.split('id="history"')[1]
    assert history.count("/undo/") == 1
    page_of(lead_client, "job_undo", "weld", undo_in(history))
    weld.refresh_from_db()
    assert weld.state == State.OPEN


def test_an_edit_is_undone_from_its_message(lead_client, weld):
    form = {"title": "Weld twice", "kind": "bench", "likely": "4h", "people": "1"}
    page = page_of(lead_client, "job_edit", "weld", **form, version="1", slot="on")
    page_of(lead_client, "job_undo", "weld", undo_in(page.split("<main")[0]))
    weld.refresh_from_db()
    assert weld.title == "Weld"


def test_telling_of_trouble_does_not_offer_to_undo_what_came_before(lead_client, weld):
    page_of(lead_client, "job_start", "weld")
    page = page_of(lead_client, "job_trouble", "weld", reason="A part is wrong")
    assert "/undo/" not in page.split("<main")[0]


def test_a_newer_act_is_named_in_words(lead_client, technician_client, weld):
    page = page_of(technician_client, "bench_start", "weld")
    number = undo_in(page.split("<main")[0])
    page_of(lead_client, "job_leave_out", "weld")
    refused = page_of(technician_client, "bench_undo", "weld", number)
    assert "Somebody has changed “Weld” since" in refused
    answer = lead_client.post(reverse("job_undo", args=["weld", number]))
    assert answer.status_code == 409
    assert Job.objects.get().state == State.LEFT_OUT


def test_the_bench_undoes_from_the_message_and_the_job(technician_client, weld):
    page_of(technician_client, "bench_start", "weld")
    job = technician_client.get(reverse("bench_job", args=["weld"]))
    page = unescape(job.content.decode())
    assert "you started it." in page
    page = page_of(technician_client, "bench_undo", "weld", undo_in(page))
    assert "“Weld” is as it was before." in page
    assert Job.objects.get().state == State.OPEN


def test_an_act_on_another_job_is_not_there(lead_client, weld, car):
    other = JobFactory(key="other", build=car)
    page_of(lead_client, "job_start", "other")
    number = Event.objects.get(job=other).pk
    where = reverse("job_undo", args=["weld", number])
    assert lead_client.post(where).status_code == 404
