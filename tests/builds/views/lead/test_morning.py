"""The morning sheet says what the engine found, in whole sentences."""

import re
from datetime import timedelta
from html import unescape

import pytest
from django.utils import timezone

from builds.actions.work import finish_job
from builds.models import DaysAway, Event, Forecast, ForecastState, Job
from tests.builds.views.lead.small_plan import answered, plan_for_a_show
from tests.factories.job import JobFactory


def text_of(client, url="/morning/"):
    page = client.get(url)
    assert page.status_code == 200
    plain = re.sub(r"<[^>]+>", " ", page.content.decode())
    return re.sub(r"\s+([.,:])", r"\1", re.sub(r"\s+", " ", unescape(plain)))


def test_before_the_first_answer_it_offers_to_work_it_out(lead_client):
    page = lead_client.get("/morning/")
    assert page.status_code == 200
    assert "Nothing worked out yet" in page.content.decode()
    assert 'action="/morning/work-out/"' in page.content.decode()


def test_the_press_works_it_out(
    lead_client, car, tom, django_capture_on_commit_callbacks
):
    plan_for_a_show(car)
    with django_capture_on_commit_callbacks(execute=True):
        assert lead_client.post("/morning/work-out/").status_code == 302
    assert "Nothing worked out yet" not in text_of(lead_client)
    assert Forecast.objects.latest_done()


def test_a_look_changes_nothing(lead_client, car, tom):
    answered(car)
    before = Forecast.objects.count(), Event.objects.count()
    text_of(lead_client)
    assert (Forecast.objects.count(), Event.objects.count()) == before


def test_each_level_has_its_odds(lead_client, car, tom):
    entry = answered(car).answer["shows"]["summer"]["entries"]["coupe"]
    page = text_of(lead_client)
    assert "Summer show" in page
    assert "Grey coupe" in page
    for points in entry["levels"].values():
        assert re.search(rf"\b{round(points['probability'] * 100)} in 100", page)
    assert entry["best_level"].capitalize() in page


def test_the_days_to_go_are_working_days(lead_client, car, tom):
    """Monday 11 January to Friday 11 June 2027, counted on a wall calendar.

    21 weeks of five days bring it to Monday 7 June; four days more and, until the
    move-in at 16:00, all but half an hour of the Friday: 110.
    """
    answered(car)
    assert "110 working days to go" in text_of(lead_client)


def test_what_holds_up_most_is_said_with_its_number(lead_client, car, tom):
    answered(car)
    assert "Bumpers at the plater holds up 2 jobs" in text_of(lead_client)


def test_one_call_asks_all_there_is_to_ask(lead_client, car, tom):
    answered(car)
    page = text_of(lead_client)
    assert page.count("01632 960001") == 1
    assert page.count("Last word") == 1
    assert "8 pieces went out, their note says 7" in page
    assert "no date promised" in page
    assert "Last word Mon 21 Dec: “After the holiday”" in page


def test_each_person_has_a_list_or_is_named_as_idle(lead_client, car, tom):
    answered(car)
    page = text_of(lead_client)
    assert re.search(r"Tom .*Doors hung, Grey", page)
    assert "Nothing clear for Lena" in page


def test_somebody_away_is_not_called_idle(lead_client, lena, car, tom):
    DaysAway.objects.create(person=lena.person, first="2027-01-11", last="2027-01-15")
    answered(car)
    page = text_of(lead_client)
    assert "Away until Fri 15 Jan" in page
    assert "Nothing clear for" not in page


def test_found_work_waits_for_a_yes(lead_client, car, tom):
    answered(car)
    page = text_of(lead_client)
    assert "Sills rotten inside: found work on Grey coupe" in page
    assert "waiting for a yes from Carla" in page


def test_the_first_answer_has_none_to_compare_with(lead_client, car, tom):
    answered(car)
    assert "This is the first answer" in text_of(lead_client)


def test_what_people_did_between_two_answers_is_said(lead_client, lena, car, tom):
    first = answered(car)
    later = shifted_copy(first, by=-0.1)
    finish_job(by=lena, job=Job.objects.get(key="doors"), words="Both sides")
    later.asked_at = timezone.now() + timedelta(seconds=1)
    later.save()
    page = text_of(lead_client)
    now, then = (one.answer["shows"]["summer"]["entries"]["coupe"]["levels"]
                 ["complete"]["probability"] for one in (first, later))  # fmt: skip
    assert f"from {round(now * 100)} to {round(then * 100)} in 100" in page
    assert "Doors hung: lena finished it. “Both sides”" in page


def test_a_chance_that_hardly_moved_is_no_news(lead_client, car, tom):
    first = answered(car)
    later = shifted_copy(first, by=-0.01)
    later.asked_at = timezone.now() + timedelta(seconds=1)
    later.save()
    assert "No chance moved by two points or more" in text_of(lead_client)


def shifted_copy(forecast, by):
    answer = forecast.answer
    entry = answer["shows"]["summer"]["entries"]["coupe"]
    old = entry["levels"]["complete"]["probability"]
    changed = entry | {
        "levels": entry["levels"] | {
            "complete": entry["levels"]["complete"] | {"probability": old + by}
        }
    }  # fmt: skip
    show = answer["shows"]["summer"] | {"entries": {"coupe": changed}}
    return Forecast.objects.create(
        state=ForecastState.DONE,
        input_hash="later",
        answer=answer | {"shows": {"summer": show}},
    )


def test_a_car_without_a_show_has_a_range_for_each_level(
    lead_client, car, other_car, tom
):
    JobFactory(build=other_car, title="Seats", trade="panel", level="running")
    forecast = answered(car)
    levels = forecast.answer["builds"]["saloon"]["levels"]
    page = text_of(lead_client)
    assert "Red saloon" in page
    for name in levels:
        assert f"{name.capitalize()} " in page


def test_a_run_that_failed_is_said_and_the_old_answer_stays(lead_client, car, tom):
    answered(car)
    Forecast.objects.create(
        state=ForecastState.FAILED,
        asked_at=timezone.now() + timedelta(seconds=1),
        faults=[{"where": "jobs", "what": "doors waits for itself", "fix": "Cut it."}],
        error="doors waits for itself",
    )
    page = text_of(lead_client)
    assert "Doors waits for itself. Cut it." in page
    assert "Grey coupe" in page


def test_an_error_of_the_program_is_not_shown_raw(lead_client):
    Forecast.objects.create(state=ForecastState.FAILED, error="KeyError: 'x'")
    page = text_of(lead_client)
    assert "KeyError" not in page
    assert "could not be worked out" in page


@pytest.mark.parametrize("client", ["technician_client", "customer_client"])
def test_nobody_else_sees_it(client, request):
    assert request.getfixturevalue(client).get("/morning/").status_code == 403


def test_the_wall_says_the_same_without_anything_to_press(lead_client, car, tom):
    assert "Nothing worked out yet" in text_of(lead_client, "/wall/")
    answered(car)
    page = lead_client.get("/wall/").content.decode()
    main = page[page.index("<main") : page.index("</main>")]
    assert "Bumpers at the plater holds up 2 jobs" in main
    assert "in 100" in main
    for pressed in ("<a ", "<button", "<form"):
        assert pressed not in main
    assert "01632" not in main, "a phone number is no business of a visitor's"
