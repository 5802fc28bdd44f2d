"""Outside firms: facts, slots, days shut, open work and past returns."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.models import PastReturn, Promise, Vendor, VendorClosure
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.job import OutsideJobFactory
from tests.factories.vendor import VendorFactory

FACTS = {"name": "Plater", "does": "Nickel", "phone": "01632 960001"}


@pytest.fixture
def plater(shop):
    return VendorFactory(key="plater", name="Plater")


def save(client, **typed):
    return client.post(reverse("vendor", args=["plater"]), FACTS | typed)


def test_a_vendor_is_added(lead_client, shop):
    with assert_one_event("created vendor"):
        lead_client.post(reverse("vendor_new"), FACTS | {"reject_chance": "5"})
    vendor = Vendor.objects.get()
    assert (vendor.phone, vendor.reject_chance) == ("01632 960001", 0.05)


def test_facts_and_slots_are_changed(lead_client, plater):
    with assert_one_event("changed vendor"):
        save(lead_client, slot_every="20", slot_from="1 feb", minimum_charge="120,50")
    plater.refresh_from_db()
    assert (plater.slot_every, plater.slot_from) == (20, date(2027, 2, 1))
    assert plater.minimum_charge == 120.5


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"slot_every": "20"}, "Write one day that is a slot."),
        ({"slot_from": "1 feb"}, "Write how many working days lie between."),
        ({"slot_every": "0", "slot_from": "1 feb"}, "Write 1 or more."),
        ({"minimum_charge": "nan"}, "Write a number."),
        ({"minimum_charge": "-1"}, "Write 0 or more."),
        ({"reject_chance": "101"}, "Write 100 or less."),
        ({"calendar": "never"}, "no longer on the list"),
        ({"phone": "0" * 101}, "no more than 100"),
    ],
)
def test_a_bad_form_is_refused_and_kept(lead_client, plater, typed, words):
    response = save(lead_client, does="kept words", **typed)
    assert_refused_on_the_page(response, words)
    assert 'value="kept words"' in words_of(response)


def test_days_shut_are_noted_and_taken_back(lead_client, plater):
    add = reverse("closure_add", args=["plater"])
    with assert_one_event("added closure"):
        lead_client.post(add, {"shut-first": "2 apr", "shut-last": "16 apr"})
    row = VendorClosure.objects.get()
    assert (row.first, row.last) == (date(2027, 4, 2), date(2027, 4, 16))
    lead_client.post(reverse("closure_remove", args=["plater", row.pk]))
    assert not VendorClosure.objects.exists()
    bad = lead_client.post(add, {"shut-first": "16 apr", "shut-last": "2 apr"})
    assert_refused_on_the_page(bad, "The last day is before the first.")


def test_open_work_promises_and_returns_are_shown(lead_client, plater, car):
    job = OutsideJobFactory(
        build=car, vendor=plater, title="Plate brackets", state="under way",
        started="2027-01-04T08:00", sent="2027-01-04", promised="2027-01-08", pieces=12,
    )  # fmt: skip
    OutsideJobFactory(build=car, vendor=plater, title="Plate bolts")
    for day in ("2027-01-06", "2027-01-08"):
        Promise.objects.create(job=job, date=day)
    for days in (14, 14, 28):
        PastReturn.objects.create(vendor=plater, quoted_days=10, actual_days=days)
    page = words_of(lead_client.get(reverse("vendor", args=["plater"])))
    for words in (
        "Plate brackets", "overdue", "0 of 12 pieces back", "date moved 1 time",
        "Plate bolts",
    ):  # fmt: skip
        assert words in page
    rows = words_of(lead_client.get(reverse("vendors")))
    assert "Fri 8 Jan, overdue" in rows


def test_the_list_asks_no_more_for_more_vendors(
    lead_client, plater, django_assert_num_queries
):
    OutsideJobFactory(vendor=plater)
    lead_client.get(reverse("vendors"))
    with CaptureQueriesContext(connection) as few:
        lead_client.get(reverse("vendors"))
    for _ in range(5):
        OutsideJobFactory()
    with django_assert_num_queries(len(few)):
        lead_client.get(reverse("vendors"))


def test_no_vendors_yet_says_what_they_are_for(lead_client, shop):
    page = words_of(lead_client.get(reverse("vendors")))
    assert "No vendors yet" in page
    assert reverse("vendor_new") in page


def test_a_vendor_is_left_out_and_put_back(lead_client, plater):
    with assert_one_event("left out vendor"):
        lead_client.post(reverse("vendor_leave_out", args=["plater"]))
    with assert_one_event("restored vendor"):
        lead_client.post(reverse("vendor_restore", args=["plater"]))


@pytest.mark.parametrize(
    ("returns", "words"),
    [
        # The trade's 1.15 and 2.05 times the quote, of ten days said.
        ([], "Says 10, usually 12, 1 in 10 over 20"),
        # 50 returns of 13 for 10: median tends to 1.3 (4 parts of 54 the trade's).
        ([(10, 13)] * 50, "Says 10, usually 13, 1 in 10 over 15"),
        # 31 of which 18 lay there is 13, too.
        ([(10, 31, 18)] * 50, "Says 10, usually 13, 1 in 10 over 15"),
    ],
)
def test_a_vendors_word_is_said_beside_what_it_is_worth(
    lead_client, plater, returns, words
):
    for quoted, took, *waited in returns:
        PastReturn.objects.create(
            vendor=plater,
            quoted_days=quoted,
            actual_days=took,
            waited_days=waited[0] if waited else 0,
        )
    page = words_of(lead_client.get(reverse("vendor", args=["plater"])))
    assert words in page


def test_what_one_batch_is_may_be_said(lead_client, plater):
    save(
        lead_client,
        batch_same=["colour", "alloy"],
        batch_kilos="25",
        batch_days="black: tue; clear: mon, thu",
    )
    plater.refresh_from_db()
    days = {"black": ["tue"], "clear": ["mon", "thu"]}
    assert plater.batch == {"same": ["colour", "alloy"], "kilos": 25.0, "days": days}
    page = words_of(lead_client.get(reverse("vendor", args=["plater"])))
    assert 'value="black: tue; clear: mon thu"' in page
    save(lead_client)
    plater.refresh_from_db()
    assert plater.batch is None


@pytest.mark.parametrize("typed", ["black", "black: someday", ": tue"])
def test_a_colour_without_its_days_is_refused(lead_client, plater, typed):
    response = save(lead_client, batch_days=typed)
    assert_refused_on_the_page(response, "is not a colour with its days")
