"""The lead sees who is asked for what, week by week. Tom has 40 hours a week."""

import html
import re

import pytest
from django.urls import reverse

from builds.models import DaysAway, PlaceUse, WorkCalendar
from builds.planning.replan import replan
from tests.factories.job import JobFactory
from tests.factories.people import PersonFactory
from tests.factories.place import PlaceFactory

TOO_MUCH = (
    "Tom is asked for 62 hours of panel work in the week of 11 January and has 40."
)


@pytest.fixture
def look(lead_client):
    def look(where="hands", *args, **data):
        page = lead_client.get(reverse(where, args=args), data)
        assert page.status_code == 200
        text = re.sub(r"<[^>]+>", " ", html.unescape(page.content.decode()))
        return " ".join(text.split())

    return look


@pytest.fixture
def busy(tom, car):
    """62 hours of panel work, all of it clear on Monday; Tom is the only one for it."""
    for key, title, hours in (("sill", "Sill", 28), ("floor", "Floor", 34)):
        facts = {"trade": "panel", "likely": hours, "fixed": True}
        JobFactory(key=key, title=title, build=car, **facts)
    assert replan().state == "done"


def test_says_in_one_sentence_who_is_asked_for_too_much(busy, look):
    page = look()
    assert TOO_MUCH in page
    assert "Panel work is shortest of hands" in page


def test_says_hours_over_and_free_in_words(busy, look):
    page = look()
    # Week of 11 January: 62 of 40. The plan fills it; 22 h are left for the next.
    assert "22 h over" in page
    assert "11 Jan 22 h over full" in page
    assert "18 Jan 18 h free" in page


def row_of(user):
    return f"person-{user.person.pk}"


def test_the_table_says_the_same_and_names_the_jobs_by_car(busy, tom, look):
    page = look(row=row_of(tom))
    assert "62 h, 22 h over 40 h 40 h none 22 h Grey coupe :" in page
    either = r"Grey coupe : (Sill 28 h , Floor 12 h|Floor 34 h , Sill 6 h)"
    assert re.search(either, page)


def test_a_job_can_be_given_to_somebody_else_from_here(busy, tom, lead_client):
    page = lead_client.get(reverse("hands"), {"row": row_of(tom)}).content.decode()
    assert f'href="{reverse("job_who", args=["sill"])}"' in page


def test_figures_are_shown_for_the_row_that_is_asked_for(busy, tom, lead_client):
    page = lead_client.get(reverse("hands")).content.decode()
    assert "<table" not in page
    assert f"row={row_of(tom)}#{row_of(tom)}" in html.unescape(page)
    page = lead_client.get(reverse("hands"), {"row": row_of(tom)}).content.decode()
    assert page.count("<table") == 1
    assert f'href="/hands/?weeks=12#{row_of(tom)}"' in page


def test_the_row_comes_alone_where_only_it_is_asked_for(busy, tom, lead_client):
    answer = lead_client.get(
        reverse("hands"),
        {"row": row_of(tom)},
        headers={"HX-Request": "true", "HX-Target": row_of(tom)},
    )
    page = answer.content.decode()
    assert page.lstrip().startswith("<article")
    assert page.count("<article") == page.count("<table") == 1


def test_a_row_nobody_knows_opens_nothing(busy, lead_client):
    page = lead_client.get(reverse("hands"), {"row": "person-0"}).content.decode()
    assert "<table" not in page


def test_a_job_asked_for_as_well_is_named_where_the_plan_puts_it_off(look, tom, car):
    for key, title in (("a", "Wings"), ("b", "Doors")):
        facts = {"title": title, "trade": "panel", "likely": 40, "fixed": True}
        JobFactory(key=key, build=car, **facts)
    replan()
    page = look(row=row_of(tom))
    first = page.split("11 Jan week 2")[1].split("18 Jan week 3")[0]
    assert "Wings" in first
    assert "Doors" in first


def test_somebody_with_hours_free_is_named_most_first(busy, look):
    PersonFactory(key="una", name="Una")
    replan()
    free = look().split("Hours free")[1].split("People, week by week")[0]
    assert "Una : 40 h this week, 40 h next week" in free
    assert free.index("Una") < free.index("Tom")
    assert "Tom : none this week, 18 h next week" in free


def test_half_an_hour_is_rounded_alike_in_the_list_the_row_and_its_table(
    tom, car, look
):
    JobFactory(key="a", build=car, trade="panel", likely=31.5, fixed=True)
    replan()
    page = look(row=row_of(tom))
    assert "Tom : 9 h this week" in page
    assert "11 Jan 9 h free" in page
    assert "32 h 9 h none" in page


def test_a_week_away_says_so_and_what_is_asked_all_the_same(tom, car, look):
    DaysAway.objects.create(person=tom.person, first="2027-01-18", last="2027-01-22")
    JobFactory(key="a", build=car, trade="panel", likely=4)
    replan()
    assert "18 Jan away" in look()


def test_a_week_that_is_shut_says_closed(busy, shop, look):
    WorkCalendar.objects.update(closed=["2027-01-18/2027-01-22"])
    replan()
    assert "18 Jan closed" in look()


def test_nobody_over_is_said_too(tom, car, look):
    JobFactory(key="a", build=car, trade="panel", likely=4, fixed=True)
    replan()
    assert "Nobody is asked for more hours than they have in these 12 weeks." in look()


def test_a_place_that_is_too_small_is_shown_the_others_are_folded(busy, car, look):
    booth = PlaceFactory(key="booth", name="Spray booth")
    PlaceFactory(key="ramp", name="Ramp")
    for job in car.jobs.all():
        PlaceUse.objects.create(job=job, place=booth)
    replan()
    page = look()
    places = page.split("Places, week by week")[1]
    assert "Spray booth 1 car or job at once" in places
    assert "22 h over" in places
    assert "Not asked for in these weeks: Ramp." in places


@pytest.mark.parametrize(
    ("asked", "shown"),
    [("", 12), ("24", 24), ("52", 52), ("0", 12), ("53", 12), ("soon", 12)],
)
def test_more_weeks_are_shown_on_request(busy, lead_client, asked, shown):
    page = lead_client.get(reverse("hands"), {"weeks": asked}).content.decode()
    people = page.split('id="places"')[0]
    assert people.count('<li class="tally">') == shown * 2  # Lena and Tom
    assert ("Show 24 weeks" in page) == (shown == 12)
    assert ("Show " in page) == (shown < 52)


def test_says_how_good_the_plan_is_in_words(busy, look):
    assert "no other order of the work ends sooner" in look() or "% of" in look()


def test_before_the_first_answer_it_says_what_the_page_is_for(lead_client):
    page = lead_client.get(reverse("hands")).content.decode()
    assert "Nothing worked out yet" in page
    assert reverse("work_out") in page


def test_the_tab_leads_here_and_on_to_who_works_here(busy, lead_client):
    page = lead_client.get(reverse("hands")).content.decode()
    assert f'href="{reverse("people")}"' in page
    assert re.search(r'href="/hands/"[^>]*aria-current', page)


def test_it_takes_few_questions(busy, lead_client, django_assert_max_num_queries):
    with django_assert_max_num_queries(40):
        lead_client.get(reverse("hands"))
