"""Parts on order: the list, and one order's page."""

import re

import pytest
from django.urls import reverse

from builds.models import Job, Kind, State
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import words_of
from tests.factories.job import JobFactory

OUT = {
    "kind": Kind.ORDER,
    "state": State.UNDER_WAY,
    "started": "2027-01-04T08:00",
    "sent": "2027-01-04",
}


@pytest.fixture
def order(car):
    return JobFactory(key="bushes", title="Bushes", build=car, pieces=12, **OUT)


def act(client, name, **typed):
    return client.post(reverse(f"order_{name}", args=["bushes"]), typed, follow=True)


def page(client, where):
    text = re.sub(r"<[^>]+>", " ", words_of(client.get(where)))
    return " ".join(text.split())


def test_each_order_says_how_far_it_is(lead_client, order, car):
    JobFactory(title="Seals", build=car, kind=Kind.ORDER)
    facts = {"build": car, "pieces": 5, **OUT}
    JobFactory(title="Bolts", pieces_back=3, pieces_wrong=1, **facts)
    JobFactory(title="Lamp", back_order=True, **facts)
    JobFactory(title="Horn", acknowledged="2027-01-05", promised="2027-01-08", **facts)
    found = page(lead_client, reverse("orders"))
    for words in (
        "5 parts to order or on the way",
        "Seals Grey coupe supplier not noted clear To order",
        "Short, 3 of 5 in, 1 came wrong",
        "On back-order",
        "Acknowledged Mon 4 Jan Fri 8 Jan, overdue",
        "Ordered, not acknowledged",
    ):
        assert words in found


def test_short_and_wrong_is_counted_in(lead_client, order):
    with assert_one_event("received order"):
        answer = act(lead_client, "received", good="11", wrong="1", words="Left-handed")
    assert "“Bushes”: short, 11 of 12 in, 1 came wrong." in words_of(answer)
    with assert_one_event("booked back"):
        answer = act(lead_client, "received", good="12")
    assert "“Bushes” is in, all of it." in words_of(answer)


def test_acknowledged_and_back_order(lead_client, order):
    act(lead_client, "acknowledged", day="8 jan", promised="fri")
    act(lead_client, "back_order", promised="any day now")
    job = Job.objects.get()
    assert (job.back_order, job.promised) == (True, None)
    assert [one.said for one in job.promises.all()] == [
        "Order acknowledged",
        "any day now",
    ]
    assert "moved" not in page(lead_client, reverse("order", args=["bushes"]))
    assert "On back-order, no date" in page(lead_client, reverse("ring"))


def test_a_part_is_robbed_and_stands_on_the_list_of_what_is_owed(
    lead_client, order, other_car
):
    JobFactory(key="axle", title="Axle up", build=other_car)
    JobFactory(title="Fit bushes", build=order.build, after=[order])
    answer = act(lead_client, "rob", donor="saloon", hours="2h", first=["axle"])
    assert "“Put back: Bushes” is on the list of Red saloon" in words_of(answer)
    found = page(lead_client, reverse("orders"))
    assert "To be put back" in found
    assert "Put back: Bushes Red saloon, robbed for Grey coupe" in found


@pytest.mark.parametrize(
    ("name", "typed", "words"),
    [
        ("received", {"good": "many"}, "Write a whole number."),
        ("received", {"good": "20"}, "20 cannot have come"),
        ("acknowledged", {"day": "someday"}, "is not a day"),
        ("rob", {"hours": "2h"}, "This field is required"),
        ("rob", {"donor": "saloon", "hours": "2h", "first": ["bushes"]}, "no longer"),
    ],
)
def test_a_bad_form_comes_back_as_it_was_typed(
    lead_client, order, other_car, name, typed, words
):
    answer = act(lead_client, name, **typed)
    assert answer.status_code == 422
    text = words_of(answer)
    assert words in text or "Fill this in" in text
    assert f'value="{next(iter(typed.values()))}"' in text or "selected" in text


def test_a_bench_job_is_no_order(lead_client, car):
    JobFactory(key="weld", build=car)
    assert lead_client.get(reverse("order", args=["weld"])).status_code == 404


def test_an_order_not_yet_placed_says_where_to_say_so(lead_client, car):
    JobFactory(key="seals", build=car, kind=Kind.ORDER)
    assert "when it was ordered" in page(lead_client, reverse("order", args=["seals"]))
