"""The lead gives a job to somebody, having seen what it does to the odds."""

import html
import re

import pytest
from django.urls import reverse

from builds.models import Event, Job, PersonTrade, ShowEntry
from builds.planning.replan import replan
from tests.factories.job import JobFactory
from tests.factories.people import PersonFactory
from tests.factories.show import ShowFactory

WHERE = reverse("job_who", args=["sill"])


def words(response):
    text = re.sub(r"<[^>]+>", " ", html.unescape(response.content.decode()))
    return " ".join(text.split())


@pytest.fixture
def sill(tom, car):
    """Tom signs off panel work, Una does it alone and takes ten times as long."""
    una = PersonFactory(key="una", name="Una")
    PersonTrade.objects.create(person=una, trade="panel", level=2, pace=10)
    PersonFactory(key="kim", name="Kim")
    show = ShowFactory(key="spring", name="Spring show", move_in="2027-01-20T16:00")
    ShowEntry.objects.create(show=show, build=car, level="complete")
    facts = {"trade": "panel", "likely": 20, "fixed": True}
    JobFactory(key="sill", title="Sill", build=car, **facts)
    replan()


def test_says_who_has_it_now_and_who_could_take_it(sill, lead_client):
    page = words(lead_client.get(WHERE))
    assert "Whoever is free; the plan gives it to Tom." in page
    # 40 h a week; the plan gives Tom the sill's 20.
    assert "Tom signs off, 20 h free in the week of Mon 11 Jan" in page
    assert "Una works alone, 40 h free in the week of Mon 11 Jan" in page


def test_says_who_may_not_and_why(sill, lead_client):
    page = words(lead_client.get(WHERE)).split("Who may not take it")[1]
    assert "Kim does no panel work." in page


def test_shows_the_odds_before_and_after_and_stores_nothing(sill, lead_client):
    # 20 h are done by Wednesday; ten times as long is 200 h, five weeks.
    page = words(lead_client.get(WHERE, {"person": "una"}))
    assert "Given to Una" in page
    assert re.search(r"Complete , wanted 100 in 100 0 in 100 100 fewer in 100", page)
    assert "Give it to Una" in page
    assert Job.objects.get(key="sill").person is None
    assert not Event.objects.exists()


def test_only_the_part_is_answered_where_only_that_is_asked(sill, lead_client):
    part = lead_client.get(
        WHERE, {"person": "una"}, headers={"HX-Request": "true", "HX-Target": "odds"}
    )
    assert "Give it to Una" in words(part)
    assert b"<h1" not in part.content


def test_the_plan_follows_what_is_chosen_and_it_can_be_undone(sill, lead_client):
    answer = lead_client.post(WHERE, {"person": "una"}, follow=True)
    assert "“Sill” is given to Una." in words(answer)
    assert Job.objects.get(key="sill").person.key == "una"
    undo = re.search(rf'action="({WHERE}\?person=)"', answer.content.decode())
    assert undo
    lead_client.post(undo[1])
    assert Job.objects.get(key="sill").person is None


def test_it_is_left_to_whoever_is_free_again(sill, lead_client):
    lead_client.post(WHERE, {"person": "una"})
    assert "Leave it to whoever is free" in words(
        lead_client.get(WHERE, {"person": ""})
    )
    answer = lead_client.post(WHERE, {"person": ""}, follow=True)
    assert "“Sill” goes to whoever is free." in words(answer)
    assert Job.objects.get(key="sill").person is None


def test_the_same_choice_again_changes_nothing(sill, lead_client):
    page = words(lead_client.post(WHERE, {"person": ""}, follow=True))
    assert "Nothing was changed." in page
    assert not Event.objects.exists()


@pytest.mark.parametrize("method", ["get", "post"])
def test_somebody_who_may_not_is_refused_in_words(sill, lead_client, method):
    answer = getattr(lead_client, method)(WHERE, {"person": "kim"})
    assert answer.status_code == (422 if method == "post" else 200)
    part = words(answer).split("Who could take it")[method == "get"]
    assert "Kim does no panel work." in part
    assert Job.objects.get(key="sill").person is None


def test_somebody_who_is_not_there_is_refused(sill, lead_client):
    answer = lead_client.post(WHERE, {"person": "nobody"})
    assert answer.status_code == 422
    assert "no longer on the list" in words(answer)


def test_a_job_that_is_done_is_nobodys_to_give(sill, lead_client):
    Job.objects.update(
        state="done", started="2027-01-08T08:00", finished="2027-01-08T12:00"
    )
    page = words(lead_client.get(WHERE, {"person": "una"}))
    assert "“Sill” is done. Who did it stays." in page
    assert "See what it does" not in page


def test_the_job_page_leads_here_while_hands_do_it(sill, lead_client):
    page = lead_client.get(reverse("job", args=["sill"])).content.decode()
    assert f'href="{WHERE}"' in page
    Job.objects.update(kind="stand")
    page = lead_client.get(reverse("job", args=["sill"])).content.decode()
    assert f'href="{WHERE}"' not in page
