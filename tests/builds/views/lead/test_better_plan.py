"""The page of the long look, from the wish to what came of it."""

import html
from datetime import timedelta
from unittest import mock

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.models import Job, Search, SearchState, ShowEntry, Workshop
from builds.planning.question import read_question
from builds.planning.replan import replan
from builds.tasks import search as tasks
from tests.factories.show import ShowFactory


@pytest.fixture
def queue(settings):
    settings.REDIS_URL = "redis://localhost:1/0"
    with mock.patch.object(tasks.look_for_a_turn, "delay") as delay:
        yield delay


@pytest.fixture
def page(lead_client):
    def page(headers=None):
        found = lead_client.get(reverse("better_plan"), headers=headers)
        assert found.status_code == 200
        return " ".join(html.unescape(found.content.decode()).split())

    return page


@pytest.fixture
def post(lead_client):
    def post(name, **data):
        found = lead_client.post(reverse(name), data)
        return found.status_code, html.unescape(found.content.decode())

    return post


def search(**facts):
    """A look at the plan as it stands."""
    asked = read_question()
    usual = {
        "input_hash": asked.digest,
        "at": asked.plan.now,
        "minutes": 5,
        "seen": timezone.now(),
    }
    return Search.objects.create(**usual | facts)


def odds(chance, p80, start, who):
    levels = {"complete": {"probability": chance, "p80": p80}}
    entry = {"level": "complete", "levels": levels}
    show = {"name": "Summer show", "move_in": "2027-06-11T16:00"}
    return {
        "shows": {"summer": show | {"entries": {"coupe": entry}}},
        "builds": {"coupe": {"wanted_level": "complete", "levels": levels}},
        "jobs": {"weld": {"planned_start": start, "who": [who]}},
    }


def test_asking_shows_how_far_it_is_and_looks_again_by_itself(page, post, queue, weld):
    assert post("better_plan_ask", minutes="5")[0] == 302
    shown = page()
    assert "Waiting for its turn" in shown
    assert "for 5 minutes in all" in shown
    assert 'hx-trigger="every 2s"' in shown


def test_how_far_it_is_is_said_in_figures_and_words(page):
    search(state="running", share=0.42, progress="Trying other orders of the work")
    shown = page({"HX-Target": "stand", "HX-Request": "true"})
    assert "<html" not in shown
    assert 'value="42"' in shown
    assert "42 of 100 parts done" in shown
    assert "Trying other orders of the work." in shown
    assert "Stop, keep the best so far" in shown


@pytest.mark.parametrize(
    "state", [one for one in SearchState if one not in ("queued", "running")]
)
def test_when_it_is_over_the_page_asks_no_more(page, state):
    search(state=state)
    shown = page()
    assert "hx-trigger" not in shown
    assert "Stop, keep" not in shown


@pytest.fixture
def found(car, weld):
    """What a look found that was better."""
    ShowEntry.objects.create(show=ShowFactory(key="summer"), build=car)
    return {
        "before": odds(0.64, "2027-06-14T12:00", "2027-01-12T08:00", "ana"),
        "after": odds(0.71, "2027-06-10T12:00", "2027-01-11T08:00", "tom"),
    }


def test_what_was_found_is_laid_beside_what_was(page, found):
    search(state="done", **found)
    shown = page()
    assert "1 job starts at another time, 1 job is in other hands" in shown
    assert "64 in 100" in shown
    assert "71 in 100" in shown
    assert "7 more in 100" in shown
    assert "4 days sooner" in shown


def test_finding_nothing_better_is_said_so(page):
    same = odds(0.64, "2027-06-14T12:00", "2027-01-12T08:00", "ana")
    search(state="stopped", before=same, after=same)
    shown = page()
    assert "Stopped." in shown
    assert "No better plan was found" in shown


@pytest.mark.parametrize("state", ["done", "stopped"])
def test_once_the_plan_is_changed_nothing_that_was_found_is_said_of_it(
    page, found, weld, state
):
    search(state=state, **found)
    assert "is followed now" in page()
    Job.objects.filter(pk=weld.pk).update(likely=40)
    shown = page()
    assert "A better plan was found. Something has been changed since" in shown
    assert "is followed now" not in shown
    assert "7 more in 100" not in shown


def test_once_the_plan_is_changed_it_does_not_stay_as_it_was(page, weld):
    search(state="done")
    assert "The plan stays as it was" in page()
    Job.objects.filter(pk=weld.pk).update(likely=40)
    shown = page()
    assert "No better plan was found. Something has been changed since" in shown
    assert "The plan stays as it was" not in shown


def test_that_the_clock_has_run_on_changes_nothing(page, found):
    search(state="done", **found)
    Workshop.objects.update(now="2027-01-11T16:15")
    assert "is followed now" in page()


def test_what_a_look_found_before_a_change_overtook_it_is_not_laid_beside(page, found):
    search(state="overtaken", **found)
    assert "7 more in 100" not in page()


def test_a_look_overtaken_by_a_change_says_so(page):
    search(state="overtaken")
    assert "The plan was changed meanwhile" in page()


def test_faults_are_told(page):
    fault = {"where": "jobs/weld", "what": "it waits for itself", "fix": "Unlink it."}
    search(state="failed", faults=[fault])
    shown = page()
    assert "could not be gone through with" in shown
    assert "it waits for itself. Unlink it." in shown


def test_nobody_working_on_it_is_told(page):
    search(state="queued", seen=timezone.now() - timedelta(minutes=2))
    assert "No program has taken it in hand" in page()


def test_stopping_is_told_until_the_worker_has_heard(page, post):
    search(state="running")
    assert post("better_plan_stop")[0] == 302
    assert "It is being stopped. The best plan so far is kept." in page()


def test_without_a_queue_the_page_names_the_command(page, post, weld):
    shown = page()
    assert "python manage.py improve --minutes 5" in shown
    assert reverse("better_plan_ask") not in shown
    status, shown = post("better_plan_ask", minutes="5")
    assert status == 409
    assert "none is set up" in shown
    assert not Search.objects.exists()


@pytest.mark.parametrize("minutes", ["", "2", "many", "\x00"])
def test_only_the_lengths_on_offer_are_taken(post, queue, weld, minutes):
    assert post("better_plan_ask", minutes=minutes)[0] == 422


def test_with_the_queue_away_the_wish_is_kept(post, page, settings, weld, caplog):
    settings.REDIS_URL = "redis://127.0.0.1:1/0"
    assert post("better_plan_ask", minutes="1")[0] == 302
    assert "Waiting for its turn" in page()


def test_the_morning_sheet_leads_there(lead_client, answered, weld):

    replan()
    assert (
        reverse("better_plan") in lead_client.get(reverse("morning")).content.decode()
    )
