"""In house or out: the same job's ways, compared by odds, and one picked."""

import re

import pytest
from django.core.cache import cache
from django.urls import reverse

from builds.actions.ways import add_way, pick_way, remove_way
from builds.models import Event, Job, ShowEntry, Vendor, Way
from builds.planning.problem import build_plan
from builds.planning.replan import replan
from tests.assertions import assert_one_event, assert_refused
from tests.builds.views.records.pages import words_of
from tests.factories.job import JobFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory

WHERE = reverse("job_ways", args=["weld"])
HOUSE = {"name": "Tom does it", "kind": "bench", "trade": "panel", "likely": "20"}
OUT = {
    "name": "Send it out", "kind": "outside", "vendor": "strip", "likely": "15",
    "cost": "600", "spoil_chance": "5",
}  # fmt: skip


@pytest.fixture(autouse=True)
def nothing_kept(db):
    cache.clear()


@pytest.fixture
def weld(tom, car):
    """Twenty hours in house are done on Wednesday 13th; the show is on the 20th."""
    VendorFactory(key="strip", name="Cobrane")
    show = ShowFactory(key="spring", name="Spring show", move_in="2027-01-20T16:00")
    ShowEntry.objects.create(show=show, build=car)
    return JobFactory(
        key="weld", title="Sills made", build=car, likely=20, value=1500, trade="panel"
    )


def page(client, **data):
    text = re.sub(r"<[^>]+>", " ", words_of(client.get(WHERE, data)))
    return " ".join(text.split())


@pytest.fixture
def two(lena, weld):
    add_way(
        by=lena, job=weld, name="Tom does it", kind="bench", trade="panel",
        likely=20, fixed=True,
    )  # fmt: skip
    vendor = Vendor.objects.get(key="strip")
    add_way(
        by=lena, job=weld, name="Send it out", kind="outside", vendor=vendor,
        likely=15, fixed=True, cost=600, spoil_chance=0.05,
    )  # fmt: skip
    Event.objects.all()._raw_delete("default")
    return list(weld.ways.all())


def test_ways_are_written_down(lead_client, weld):
    with assert_one_event("added way"):
        lead_client.post(WHERE, HOUSE)
    lead_client.post(WHERE, OUT)
    found = page(lead_client)
    # One in twenty of a part worth 1500 is 75.
    assert "Send it out Cobrane 15 working days of the vendor’s 600" in found
    assert "spoilt 5 in 100, 75 of its worth" in found
    assert [one.id for one in build_plan().jobs[0].ways] == [
        "tom-does-it",
        "send-it-out",
    ]


def test_they_are_compared_by_what_each_does_to_the_show(lead_client, two):
    """In house ready for the 20th; fifteen working days from the 11th are not."""
    replan()
    found = page(lead_client, odds="1")
    house, out = found.split("Send it out Cobrane")
    assert "100 in 100 Grey coupe, Spring show" in house.replace("certain, ", "")
    assert re.search(r"\b0 in 100 Grey coupe, Spring show", out) or "under 1" in out
    assert not Event.objects.exists()
    assert Job.objects.get().vendor is None


def test_the_lead_picks_one_and_it_is_written_down(lead_client, two):
    _, out = two
    with assert_one_event("picked way"):
        lead_client.post(reverse("way_pick", args=["weld", out.pk]))
    job = Job.objects.get()
    assert (job.kind, job.vendor.key, job.likely, job.trade) == (
        "outside", "strip", 15, None,
    )  # fmt: skip
    assert (job.way, job.rework_chance) == ("send-it-out", 0.05)
    assert "picked" in page(lead_client)
    with assert_refused("is the way it is done"):
        remove_way(by=Event.objects.get().by, way=out)


def test_picking_can_be_taken_back_by_picking_the_other(lena, two):
    house, out = two
    pick_way(by=lena, way=out)
    pick_way(by=lena, way=house)
    job = Job.objects.get()
    assert (job.kind, job.vendor, job.trade, job.likely) == ("bench", None, "panel", 20)


def test_a_way_is_taken_away(lead_client, two):
    with assert_one_event("removed way"):
        lead_client.post(reverse("way_remove", args=["weld", two[0].pk]))
    assert Way.objects.count() == 1


def test_work_that_has_begun_is_no_longer_chosen(lead_client, lena, two):
    Job.objects.update(state="under way", started="2027-01-11T08:00")
    with assert_refused("has begun"):
        pick_way(by=lena, way=two[1])
    assert "has begun, is done or is left out" in page(lead_client)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (HOUSE | {"likely": ""}, "Write the likely length."),
        (OUT | {"vendor": ""}, "Choose the vendor this goes to."),
        (OUT | {"likely": "3h"}, "working days"),
        (HOUSE | {"low": "10"}, "Write both"),
        (HOUSE | {"low": "30", "high": "40"}, "more than the likely length"),
        (OUT | {"spoil_chance": "200"}, "Write 100 or less."),
    ],
)
def test_a_bad_way_is_refused_and_kept(lead_client, weld, typed, words):
    answer = lead_client.post(WHERE, typed)
    assert answer.status_code == 422
    assert words in words_of(answer)
    assert f'value="{typed["name"]}"' in words_of(answer)
    assert not Way.objects.exists()
