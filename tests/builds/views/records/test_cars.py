"""Taking a car on, changing it, leaving it out."""

import pytest
from django.urls import reverse

from builds.models import Build, Event, Forecast
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.job import JobFactory

FACTS = {"name": "Blue tourer", "customer": "Otto", "wanted": "", "rank": "2"}


def edit(client, car, **typed):
    facts = {"name": car.name, "customer": car.customer, "rank": "1", "version": "1"}
    return client.post(reverse("car_edit", args=[car.key]), facts | typed)


def test_a_car_is_taken_on(lead_client):
    with assert_one_event("created build"):
        response = lead_client.post(reverse("car_new"), FACTS)
    car = Build.objects.get(name="Blue tourer")
    assert response["Location"] == reverse("car", args=[car.key])
    assert (car.customer, car.rank) == ("Otto", 2)


def test_a_bad_form_keeps_what_was_typed(lead_client):
    typed = FACTS | {"name": "", "customer": "Otto <b>", "rank": "-1"}
    response = lead_client.post(reverse("car_new"), typed)
    assert_refused_on_the_page(
        response, "What you call it: Fill this in.", "Write 0 or more."
    )
    assert 'value="Otto &lt;b&gt;"' in response.content.decode()
    assert 'value="-1"' in words_of(response)
    assert not Build.objects.exists()


def test_a_car_is_changed_and_saving_again_writes_nothing(lead_client, car):
    with assert_one_event("changed build"):
        edit(lead_client, car, name="Green coupe")
    car.refresh_from_db()
    assert (car.name, car.version) == ("Green coupe", 2)
    edit(lead_client, car, version="2")
    assert Event.objects.count() == 1


def test_a_conflict_shows_both_and_lets_one_choose(lead_client, car):
    edit(lead_client, car, name="Theirs")
    response = edit(lead_client, car, name="Mine")
    page = words_of(response)
    assert response.status_code == 409
    assert "<title>Problem: " in page
    assert "Mine" in page
    assert "Theirs" in page
    assert 'name="version" value="2"' in page
    car.refresh_from_db()
    assert car.name == "Theirs"


@pytest.mark.parametrize(("keep", "name"), [("yours", "Mine"), ("theirs", "Theirs")])
def test_what_is_chosen_in_a_conflict_stands(lead_client, car, keep, name):
    edit(lead_client, car, name="Theirs")
    choice = {"keep-name": keep, "version": "2"}
    response = edit(lead_client, car, name="Mine", note="both", **choice)
    assert response.status_code == 302
    car.refresh_from_db()
    assert (car.name, car.note) == (name, "both")


@pytest.mark.parametrize("version", ["", "x", "0", str(2**80)])
def test_a_version_nobody_was_given_is_no_error_page(lead_client, car, version):
    response = edit(lead_client, car, name="Mine", version=version)
    assert response.status_code in (409, 422)


def test_a_car_that_is_left_out_gives_a_new_answer_without_it(
    lead_client, car, django_capture_on_commit_callbacks
):
    JobFactory(key="weld", build=car)
    JobFactory(key="paint")
    with django_capture_on_commit_callbacks(execute=True):
        lead_client.post(reverse("car_leave_out", args=[car.key]))
    assert [one.state for one in Forecast.objects.all()] == ["done"]
    answer = Forecast.objects.get().answer
    assert answer["builds"][car.key]["left_out"]
    assert answer["jobs"]["weld"]["planned_start"] is None
    assert answer["jobs"]["paint"]["planned_start"] is not None


def test_a_car_is_left_out_with_the_way_back(lead_client, car):
    with assert_one_event("left out build"):
        response = lead_client.post(
            reverse("car_leave_out", args=[car.key]), follow=False
        )
    assert response.status_code == 302
    page = words_of(lead_client.get(reverse("car_edit", args=[car.key])))
    assert f'action="{reverse("car_restore", args=[car.key])}"' in page
    lead_client.post(reverse("car_restore", args=[car.key]))
    car.refresh_from_db()
    assert not car.left_out
