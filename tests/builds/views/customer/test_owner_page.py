"""What the owner of a car reads: news, dates as ranges, odds in words, questions."""

import html
from datetime import date

import pytest
from django.urls import reverse

from builds.models import Found, Kind, State, Update
from builds.selectors.owner import owner_page
from tests.builds.views.customer.conftest import LEVEL
from tests.conftest import client_of
from tests.factories.job import JobFactory
from tests.factories.people import UserFactory


@pytest.fixture
def page(customer_client):
    def page():
        found = customer_client.get(reverse("my_car"))
        assert found.status_code == 200
        return html.unescape(found.content.decode())

    return page


def test_this_weeks_news_comes_newest_first_and_older_news_apart(car):
    """The clock stands at Monday 11 January: the week goes back to Tuesday 5."""
    for day in (4, 5, 8):
        Update.objects.create(build=car, day=date(2027, 1, day), words=f"On {day}")
    found = owner_page(car)
    assert [word.words for word in found.this_week] == ["On 8", "On 5"]
    assert [word.words for word in found.earlier] == ["On 4"]


def test_levels_are_given_as_a_range_in_plain_words(car, answered):
    answered(builds={"coupe": {"levels": {"running": LEVEL}}})
    (level,) = owner_page(car).levels
    assert (level.name, level.when) == ("running", "between 18 March and 9 April")


def test_a_range_over_the_new_year_names_the_years(car, answered):
    late = LEVEL | {"p90": "2028-01-09T12:00"}
    answered(builds={"coupe": {"levels": {"running": late}}})
    (level,) = owner_page(car).levels
    assert level.when == "between 18 March 2027 and 9 January 2028"


def test_what_is_next_is_told_by_phase_and_ends_with_its_last_job(car, answered):
    for key, phase in (("a", "Paint"), ("b", "Paint"), ("c", "Trim"), ("d", "Strip")):
        JobFactory(key=key, build=car, phase=phase)
    JobFactory(key="e", build=car, phase="Strip", state=State.DONE)
    answered(
        jobs={
            "a": {"p50": "2027-02-01T12:00", "p80": "2027-02-05T12:00"},
            "b": {"p50": "2027-02-08T12:00", "p80": "2027-02-15T12:00"},
            "c": {"p50": "2027-03-01T12:00", "p80": "2027-03-01T16:00"},
            "e": {"p50": None, "p80": None},
        }
    )
    steps = owner_page(car).steps
    assert [(step.name, step.when) for step in steps] == [
        ("Paint", "between 8 February and 15 February"),
        ("Trim", "about 1 March"),
    ]


def test_odds_for_the_show_are_in_words(page, car, entered, answered):
    entry = {"levels": {"complete": {"probability": 0.74}}, "best_level": "running"}
    answered(shows={"summer": {"entries": {"coupe": entry}}})
    text = page()
    assert "Complete for Summer show" in text
    assert "likely" in text
    assert "74 in 100" in text
    assert "at 80 in 100 or better, is running" in text


def test_a_question_says_by_when_it_must_be_answered(page, car, answered):
    JobFactory(key="hide", title="Leather chosen", build=car, kind=Kind.DECISION)
    answered(jobs={"hide": {"late_finish": "2027-01-18T12:00", "in_hand_days": 4}})
    text = page()
    assert "Leather chosen" in text
    assert "By Mon 18 Jan 2027" in text


def test_the_leads_own_day_counts_before_the_engines(car, answered):
    JobFactory(key="hide", build=car, kind=Kind.DECISION, needed_by="2027-01-15")
    answered(jobs={"hide": {"late_finish": "2027-01-18T12:00", "in_hand_days": 4}})
    assert owner_page(car).needs[0].by == date(2027, 1, 15)


def test_a_day_gone_by_asks_for_it_as_soon_as_they_can(page, car, answered):
    JobFactory(key="hide", build=car, kind=Kind.DECISION)
    answered(jobs={"hide": {"late_finish": "2027-01-04T12:00", "in_hand_days": -5}})
    assert "As soon as you can: it holds up the date" in page()


def test_without_a_show_no_day_is_made_up(car, answered):
    JobFactory(key="hide", build=car, kind=Kind.DECISION)
    answered(jobs={"hide": {"late_finish": "2027-01-18T12:00", "in_hand_days": None}})
    assert owner_page(car).needs[0].by is None


def test_found_work_is_asked_until_it_is_answered(car):
    sill = JobFactory(title="Rotten sill", build=car, found=Found.ASKED)
    assert [need.question for need in owner_page(car).needs] == ["Rotten sill"]
    sill.found = Found.YES
    sill.save()
    assert owner_page(car).needs == ()


def test_what_is_asked_later_comes_after_what_is_asked_now(car, answered):
    for key in ("later", "now"):
        JobFactory(key=key, title=key, build=car, kind=Kind.DECISION)
    answered(
        jobs={"later": {"condition": "waiting"}, "now": {"condition": "under way"}}
    )
    assert [need.question for need in owner_page(car).needs] == ["now", "later"]


def test_before_the_first_forecast_the_page_says_so(page):
    assert "have not been worked out yet" in page()


def test_a_car_left_out_is_resting(page, car):
    car.left_out = True
    car.save()
    assert "resting" in page()


def test_with_several_cars_there_is_a_list_of_theirs_alone(carla, car, other_car):
    second = type(car).objects.create(key="van", name="Green van")
    carla.cars.add(second)
    text = client_of(carla).get(reverse("my_car")).content.decode()
    assert reverse("my_car_of_several", args=["van"]) in text
    assert reverse("my_car_of_several", args=["coupe"]) in text
    assert "saloon" not in text


def test_a_customer_without_a_car_is_told_what_will_stand_here(shop):
    client = client_of(UserFactory(username="new"))
    assert "No car stands under your name yet" in (
        client.get(reverse("my_car")).content.decode()
    )


def test_somebody_elses_car_is_not_there(customer_client, other_car):
    address = reverse("my_car_of_several", args=["saloon"])
    assert customer_client.get(address).status_code == 404


def test_nothing_of_it_stays_on_the_phone(customer_client, car):
    """OWASP ASVS 5.0, 14.3.2: sensitive pages say `Cache-Control: no-store`."""
    found = customer_client.get(reverse("my_car"))
    assert "no-store" in found["Cache-Control"]
