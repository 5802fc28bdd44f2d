"""The workshop's page: its settings, working weeks, places and levels."""

import pytest
from django.urls import reverse

from builds.models import Place, PlaceUse, WorkCalendar, Workshop
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.job import JobFactory
from tests.factories.place import PlaceFactory
from tests.factories.workshop import CalendarFactory

EVENINGS = {"name": "Evenings", "mon": "5pm to 9", "tue": "17-20.30"}
SETTINGS = {
    "name": "Yard", "timezone": "Europe/London", "reading": "ends",
    "samples": "50", "seed": "1",
}  # fmt: skip


@pytest.fixture
def evenings(shop):
    return CalendarFactory(key="evenings", position=1)


@pytest.fixture
def booth(shop):
    return PlaceFactory(key="booth", name="Booth")


def add_week(client, **typed):
    facts = {"name": "Evenings", "mon": "17:00-21:00"}
    return client.post(reverse("week_new"), facts | typed)


def kept(key):
    """What is kept of a week, but for how often it was saved."""
    row = WorkCalendar.objects.filter(key=key).values().get()
    return {name: value for name, value in row.items() if name != "version"}


def test_a_week_is_added_as_people_write_it(lead_client, shop):
    with assert_one_event("created calendar"):
        add_week(
            lead_client,
            tue="17-20.30",
            sat="8-12:15, 13 to 16:45",
            holidays="gb-eng",
            closed="24 dec to 2 jan\n5 may",
            open="22 may 8:00-13:00",
        )
    week = WorkCalendar.objects.get(key="Evenings")
    assert week.week == {
        "mon": ["17:00-21:00"],
        "tue": ["17:00-20:30"],
        "sat": ["08:00-12:15", "13:00-16:45"],
    }
    assert week.holidays == "GB-ENG"
    assert week.closed == ["2027-12-24/2028-01-02", "2027-05-05/2027-05-05"]
    assert week.open == {"2027-05-22": ["08:00-13:00"]}


def test_a_week_saved_untouched_stays_the_same(lead_client, shop):
    add_week(lead_client, closed="24 dec to 2 jan", open="22 may 8-13", holidays="IE")
    before = kept("Evenings")
    address = reverse("week", args=["Evenings"])
    form = lead_client.get(address).context["form"]
    lead_client.post(address, form.typed())
    assert kept("Evenings") == before


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"mon": "8-4:30"}, "08:00 to 04:30 closes before it opens."),
        ({"mon": "8-12, 11-16"}, "08:00 to 12:00 and 11:00 to 16:00 overlap"),
        ({"mon": "13-16, 8-12"}, "wrong order"),
        ({"mon": "all day"}, "“all day” are not hours."),
        ({"mon": "8-25"}, "There is no 25:00 on a clock."),
        ({"mon": "8:70-9"}, "There is no 8:70 on a clock."),
        ({"mon": ""}, "Give one day of the week its hours at least."),
        ({"holidays": "Atlantis"}, "a country whose public holidays are known"),
        ({"closed": "easter"}, "“easter”: “easter” is not a day."),
        ({"closed": "5 may to 2 may 2027"}, "the last day is before the first"),
        ({"open": "22 may"}, "write the day and its hours"),
        ({"open": "22 may 8-12\n22 may 13-16"}, "A day is there twice."),
        ({"closed": "1 may\n" * 201}, "no more than 200 lines"),
        ({"name": "x" * 101}, "no more than 100"),
    ],
)
def test_a_week_that_cannot_be_is_refused_and_kept(lead_client, shop, typed, words):
    response = add_week(
        lead_client, **({"sun": "9-10"} if "mon" not in typed else {}), **typed
    )
    assert_refused_on_the_page(response, words)
    assert WorkCalendar.objects.count() == 1


def test_day_and_night_needs_no_hours(lead_client, shop):
    add_week(lead_client, mon="", elapsed="on")
    assert WorkCalendar.objects.get(key="Evenings").elapsed


def test_hours_are_read_back_while_typing(lead_client, shop):
    asked = {"reads": "hours", "field": "mon", "mon": "8-12.15"}
    page = words_of(lead_client.get(reverse("understood"), asked))
    assert "Understood as 08:00 to 12:15." in page


def test_a_week_is_made_usual_and_put_back(lead_client, evenings):
    with assert_one_event("chose calendar"):
        page = lead_client.post(reverse("week_usual", args=["evenings"]), follow=True)
    assert "usual week now" in words_of(page)
    undo = words_of(page).split("message--success")[-1].split('action="')[1]
    lead_client.post(undo.split('"')[0])
    assert WorkCalendar.objects.all()[0].key != "evenings"


def test_a_week_taken_away_is_put_back_as_it_was(lead_client, shop):
    add_week(lead_client, closed="24 dec to 2 jan", open="22 may 8-13", holidays="IE")
    before = WorkCalendar.objects.values("week", "closed", "open", "holidays").last()
    with assert_one_event("removed calendar"):
        page = lead_client.post(reverse("week_remove", args=["Evenings"]), follow=True)
    assert WorkCalendar.objects.count() == 1
    undo = words_of(page).split("message--success")[-1].split('action="')[1]
    lead_client.post(undo.split('"')[0])
    after = WorkCalendar.objects.values("week", "closed", "open", "holidays").last()
    assert after == before


def test_a_week_in_use_says_who_keeps_it(lead_client, evenings, booth):
    booth.calendar = evenings
    booth.save()
    page = lead_client.post(reverse("week_remove", args=["evenings"]), follow=True)
    assert "“evenings” is the week of “Booth”" in words_of(page)
    assert "Kept by Booth" in words_of(page)


def test_day_and_night_that_nobody_wrote_has_no_page(lead_client, shop):
    WorkCalendar.objects.update(key="always", implied=True)
    assert lead_client.get(reverse("week", args=["always"])).status_code == 404
    page = words_of(lead_client.get(reverse("workshop")))
    assert "the plan counts day and night" in page


def test_a_place_is_added_changed_and_taken_away(lead_client, evenings):
    with assert_one_event("created place"):
        lead_client.post(reverse("place_new"), {"name": "Ramp", "capacity": "1"})
    facts = {"name": "Ramp 1", "capacity": "2", "calendar": "evenings"}
    with assert_one_event("changed place"):
        lead_client.post(reverse("place", args=["ramp"]), facts)
    place = Place.objects.get()
    assert (place.name, place.capacity, place.calendar) == ("Ramp 1", 2, evenings)
    with assert_one_event("removed place"):
        page = lead_client.post(reverse("place_remove", args=["ramp"]), follow=True)
    undo = words_of(page).split("message--success")[-1].split('action="')[1]
    lead_client.post(undo.split('"')[0])
    assert Place.objects.get().calendar == evenings


def test_a_place_with_work_to_come_says_which(lead_client, booth, car):
    PlaceUse.objects.create(job=JobFactory(build=car, title="Spray"), place=booth)
    page = lead_client.post(reverse("place_remove", args=["booth"]), follow=True)
    assert "“Booth” is asked for by “Spray”" in words_of(page)
    assert "1 job to come" in words_of(lead_client.get(reverse("workshop")))


@pytest.mark.parametrize("capacity", ["0", "1001", "many", ""])
def test_a_place_holds_something(lead_client, booth, capacity):
    facts = {"name": "Booth", "capacity": capacity}
    response = lead_client.post(reverse("place", args=["booth"]), facts)
    assert_refused_on_the_page(response)


def levels_sent(*rows):
    found = {}
    for number, (order, name) in enumerate(rows):
        found |= {f"order-{number}": order, f"name-{number}": name}
    return found


def test_levels_are_renamed_added_and_reordered(lead_client, shop):
    sent = levels_sent(
        ("1", "stands"), ("2", "running"), ("4", "road-ready"), ("5", "complete"),
        ("3", "driving"),
    )  # fmt: skip
    with assert_one_event("changed levels"):
        lead_client.post(reverse("levels"), sent)
    expected = ["stands", "running", "driving", "road-ready", "complete"]
    assert Workshop.current().levels == expected


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([("1", "")] * 4, "Keep one level at least"),
        ([("1", "on"), ("2", "on"), ("3", ""), ("4", "")], "“on” is there twice"),
        ([("1", ""), ("2", ""), ("3", ""), ("4", "complete")], "must be done for"),
        ([("0", "on"), ("2", "b"), ("3", "c"), ("4", "d")], "Write 1 or more."),
    ],
)
def test_levels_that_cannot_be_are_refused(lead_client, car, rows, words):
    JobFactory(build=car, level="running")
    response = lead_client.post(reverse("levels"), levels_sent(*rows))
    assert_refused_on_the_page(response, words)


def test_how_to_reach_the_workshop_is_for_the_customer_and_for_paper(
    lead_client, customer_client, shop
):
    before = words_of(customer_client.get(reverse("my_car")))
    assert "Questions? Ring" not in before
    reach = {"town": "Ashby", "phone": "01632 960900", "address": "1 Yard Lane"}
    with assert_one_event("changed workshop"):
        lead_client.post(reverse("workshop"), SETTINGS | reach)
    page = words_of(customer_client.get(reverse("my_car")))
    assert "Questions? Ring" in page
    assert "01632 960900" in page
    assert "Yard, 1 Yard Lane, Ashby" in page
    paper = words_of(lead_client.get(reverse("workshop"))).split("on-paper")[1]
    assert "01632 960900" in paper
