"""The list of cars and the build sheet."""

import pytest

from builds.actions.jobs import leave_out_job
from builds.actions.work import finish_job
from builds.models import Event, Forecast, Job, Kind
from builds.selectors.car import CONDITIONS, car_page
from tests.builds.views.lead.small_plan import answered
from tests.builds.views.lead.test_morning import text_of
from tests.factories.job import JobFactory

# The eight words a job's condition can be: the plan's own contract.
WORDS = {
    "waiting", "clear", "under way", "away", "back, to check", "part back", "done",
    "left out",
}  # fmt: skip


def test_without_cars_it_offers_the_first(lead_client):
    page = text_of(lead_client, "/cars/")
    assert "No cars yet" in page
    assert "Start the first car" in page


def test_the_list_says_how_much_is_left_and_how_sure(lead_client, car, tom):
    chance = (
        answered(car).answer["shows"]["summer"]["entries"]["coupe"]["levels"]
        ["complete"]["probability"]
    )  # fmt: skip
    page = text_of(lead_client, "/cars/")
    assert "5 open jobs" in page
    assert "Complete for Summer show:" in page
    assert f"{round(chance * 100)} in 100" in page


def test_a_car_that_is_left_out_comes_last(lead_client, car, other_car):
    car.left_out, car.rank, other_car.rank = True, 1, 2
    car.save()
    other_car.save()
    page = text_of(lead_client, "/cars/")
    assert page.index("Red saloon") < page.index("Grey coupe")
    assert "left out" in page


def test_before_the_first_answer_the_sheet_has_its_jobs_and_no_odds(lead_client, car):
    first = JobFactory(build=car, title="Doors off")
    JobFactory(build=car, title="Doors on", after=[first])
    page = text_of(lead_client, "/cars/coupe/")
    assert "Doors off" in page
    assert "How ready" not in page
    conditions = {
        line.title: line.condition
        for phase in car_page(car, "").phases
        for line in phase.jobs
    }
    assert conditions == {"Doors off": "clear", "Doors on": "waiting"}


def test_the_sheet_has_odds_the_run_in_and_reasons(lead_client, car, tom):
    answered(car)
    page = text_of(lead_client, "/cars/coupe/")
    assert "How ready, how sure" in page
    assert "Run-in" in page
    for word in ("Plating", "Assembly", "Bumpers at the plater", "Found work"):
        assert word in page
    fitting = Forecast.objects.latest_done().answer["jobs"]["fit"]
    assert fitting["reasons"]
    for reason in fitting["reasons"]:
        assert reason in page


def test_the_address_shows_only_one_condition(lead_client, car, tom):
    answered(car)
    (phase,) = car_page(car, "away").phases
    assert [line.title for line in phase.jobs] == ["Bumpers at the plater"]
    page = lead_client.get("/cars/coupe/?condition=away").content.decode()
    jobs = page[page.index('id="jobs"') :]
    assert "Bumpers at the plater" in jobs
    assert "Gaps looked over" not in jobs


def test_a_condition_nobody_knows_shows_all(lead_client, car, tom):
    answered(car)
    assert "Gaps looked over" in text_of(lead_client, "/cars/coupe/?condition=purple")


def test_a_part_of_the_page_is_the_list_alone(lead_client, car, tom):
    answered(car)
    part = lead_client.get(
        "/cars/coupe/?condition=away",
        headers={"hx-request": "true", "hx-target": "jobs"},
    ).content.decode()
    assert "<html" not in part
    assert 'id="jobs"' in part
    assert "Bumpers at the plater" in part


def test_the_conditions_are_the_eight_of_the_plan():
    assert set(CONDITIONS) == WORDS


def test_what_was_done_since_the_answer_counts(lena, car, tom):
    answered(car)
    finish_job(by=lena, job=Job.objects.get(key="doors"))
    page = car_page(car, "")
    closed = [line for phase in page.done for line in phase.jobs]
    assert [(line.title, line.condition) for line in closed] == [("Doors hung", "done")]
    assert closed[0].reasons == ()


def test_what_is_left_out_is_folded_away_and_said(lead_client, lena, car, tom):
    answered(car)
    leave_out_job(by=lena, job=Job.objects.get(key="doors"))
    page = car_page(car, "")
    assert [line.title for phase in page.done for line in phase.jobs] == ["Doors hung"]
    assert "Done and left out" in text_of(lead_client, "/cars/coupe/")


def test_decisions_and_snags_stand_by_themselves(lead_client, car):
    JobFactory(build=car, title="Which leather", kind=Kind.DECISION, likely=7)
    JobFactory(build=car, title="Door rubs", snag=True)
    page = car_page(car, "")
    assert [line.title for line in page.decisions] == ["Which leather"]
    assert [line.title for line in page.snags] == ["Door rubs"]
    text = text_of(lead_client, "/cars/coupe/")
    assert "Decisions owed" in text
    assert "Snag list" in text


def test_leaving_a_car_out_is_a_press_and_can_be_taken_back(lead_client, car):
    lead_client.post("/cars/coupe/leave-out/")
    assert "left out of the plan" in text_of(lead_client, "/cars/coupe/")
    lead_client.post("/cars/coupe/restore/")
    assert "left out of the plan" not in text_of(lead_client, "/cars/coupe/")


def test_a_look_changes_nothing(lead_client, car, tom):
    answered(car)
    before = Forecast.objects.count(), Event.objects.count()
    text_of(lead_client, "/cars/")
    text_of(lead_client, "/cars/coupe/?condition=clear")
    assert (Forecast.objects.count(), Event.objects.count()) == before


def test_a_car_that_is_not_there(lead_client):
    assert lead_client.get("/cars/nothing/").status_code == 404


@pytest.mark.parametrize("client", ["technician_client", "customer_client"])
@pytest.mark.parametrize("url", ["/cars/", "/cars/coupe/"])
def test_nobody_else_sees_them(client, url, car, request):
    assert request.getfixturevalue(client).get(url).status_code in (403, 404)
