"""The lead sees what moved in the plan, and says which order people follow."""

import html
import re

import pytest
from django.urls import reverse

from builds.models import Forecast, Job, Workshop
from builds.planning.replan import replan
from builds.selectors.plan_words import plan_words
from tests.builds.views.lead.small_plan import plan_for_a_show
from tests.factories.job import JobFactory, OutsideJobFactory

LATER = {
    "job": "sill",
    "build": "coupe",
    "was": "2027-01-11T08:00",
    "now": "2027-01-13T08:00",
    "was_who": ["tom"],
    "who": ["lena"],
    "why": "The wing is promised two days later.",
}
SOONER = {"job": "floor", "was": "2027-01-15T08:00", "now": "2027-01-12T08:00"}
NEW = {"job": "roof", "was": None, "now": "2027-01-14T08:00", "who": ["tom"]}
GONE = {"job": "nobody-knows", "was": None, "now": None}


def words(response):
    assert response.status_code == 200
    text = re.sub(r"<[^>]+>", " ", html.unescape(response.content.decode()))
    return " ".join(text.split())


@pytest.fixture
def answered(tom, car):
    """An answer of the engine, with what moved put beside it."""
    plan_for_a_show(car)
    for key, title in (("sill", "Sill"), ("floor", "Floor"), ("roof", "Roof")):
        JobFactory(key=key, title=title, build=car, trade="panel")
    forecast = replan()

    def answered(*moved):
        forecast.answer["plan"]["moved"] = list(moved)
        forecast.save()

    return answered


@pytest.fixture
def look(lead_client):
    return lambda name="moved": words(lead_client.get(reverse(name)))


def test_each_job_says_was_now_who_and_why(answered, look):
    answered(LATER)
    page = look()
    assert "1 job is not where people were told." in page
    assert (
        "Sill Grey coupe Mon 11 Jan, 08:00 Wed 13 Jan, 08:00, 2 days later "
        "Lena, was Tom The wing is promised two days later."
    ) in page


def test_sooner_new_and_unknown_ones(answered, look):
    answered(LATER, SOONER, NEW, GONE)
    page = look().split("Job by job")[1]
    assert "3 days sooner nobody in house not said" in page
    assert "Roof Grey coupe not planned Thu 14 Jan, 08:00, new in the plan Tom" in page
    # The soonest first.
    assert page.index("Floor") < page.index("Sill") < page.index("Roof")


def test_a_vendors_job_that_moved_names_the_vendor(answered, look):
    answered(LATER | {"job": "chrome", "was_who": [], "who": []})
    page = look().split("Job by job")[1]
    assert "2 days later Brindle Plating The wing" in page


def test_one_edit_moves_nothing_that_goes_to_a_vendor(answered, car, look):
    OutsideJobFactory(key="hide", title="Seats", build=car, vendor__name="Hidework")
    replan()
    Job.objects.filter(key="roof").update(low=4, high=60)
    replan()
    answer = Forecast.objects.latest_done().answer
    assert len(answer["jobs"]["hide"]["who"]) == 1
    assert "hide" not in [row["job"] for row in answer["plan"]["moved"]]
    assert "nobody, was" not in look()


def test_the_morning_sheet_says_how_many_moved_and_leads_there(
    answered, look, lead_client
):
    answered(LATER, SOONER)
    page = look("morning")
    assert "The plan has changed: 2 jobs moved ." in page
    source = lead_client.get(reverse("morning")).content.decode()
    assert f'href="{reverse("moved")}"' in source


def test_an_answer_without_the_list_moved_nothing(answered, look):
    assert "Every job is where people were told." in look()
    assert "The plan has changed" not in look("morning")


def test_before_the_first_answer_the_page_is_there(lead_client):
    assert "Every job is where" in words(lead_client.get(reverse("moved")))


def test_the_old_order_is_kept_until_the_new_plan_is_followed(
    answered, look, lead_client
):
    answered(LATER)
    Forecast.objects.create(state="done", input_hash="y", answer=_newer())
    lead_client.post(reverse("plan_keep"))
    assert Workshop.current().keep_order
    page = look()
    assert "The old order is kept: a job moves only where" in page
    assert "Keep the old order" not in page
    answer = lead_client.post(reverse("plan_follow"), follow=True)
    assert "Everybody follows the new plan." in words(answer)
    assert not Workshop.current().keep_order
    assert "Keep the old order" in look()


def _newer():
    return Forecast.objects.latest_done().answer


def test_an_order_that_never_was_cannot_be_kept(lead_client):
    answer = lead_client.post(reverse("plan_keep"), follow=True)
    assert "There is no plan before this one" in words(answer)


@pytest.mark.parametrize(
    ("status", "said"),
    [
        ("proven best", "The plan is proven: no other order of the work ends sooner."),
        (
            "within 3 % of the bound",
            "The plan is within 3 % of the shortest that any plan could be.",
        ),
        (
            "within 2.5 % of the bound",
            "The plan is within 2.5 % of the shortest that any plan could be.",
        ),
    ],
)
def test_how_good_the_plan_is_in_words_a_lead_understands(answered, look, status, said):
    answered()
    forecast = Forecast.objects.latest_done()
    forecast.answer["plan"]["status"] = status
    forecast.save()
    for name in ("morning", "moved", "hands"):
        assert said in look(name)


def test_an_answer_without_a_status_says_nothing_of_it():
    assert plan_words({}) == ""
    assert plan_words({"plan": {"status": "as first found"}}) == (
        "The plan is as first found."
    )
