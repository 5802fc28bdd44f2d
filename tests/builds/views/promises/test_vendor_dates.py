"""Dates put in by a private link: they wait until the lead says yes or no."""

from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from builds.models import Job, Promise, VendorReply
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import words_of

PAGE = reverse("private_page")


def put_in(client, key="bumpers", **typed):
    return client.post(reverse("private_date", args=[key]), typed, follow=True)


def test_what_they_put_in_waits_for_the_lead(theirs, lead_client):
    answer = put_in(theirs, promised="3 feb", said="Bath was down", speaker="Joan")
    text = words_of(answer)
    assert "The workshop sees it and will confirm." in text
    assert "You put in Wed 3 Feb 2027." in text
    assert Job.objects.get(key="bumpers").promised == date(2027, 1, 29)
    page = words_of(lead_client.get(reverse("ring")))
    assert "Dates vendors put in" in page
    assert "Joan" in page
    assert "“Bath was down”" in page


def test_the_lead_takes_it_once(theirs, lead_client):
    put_in(theirs, promised="3 feb", speaker="Joan")
    accept = reverse("reply_accept", args=[VendorReply.objects.get().pk])
    with assert_one_event("recorded promise"):
        lead_client.post(accept)
    assert Job.objects.get(key="bumpers").promised == date(2027, 2, 3)
    assert Promise.objects.get().speaker == "Joan"
    again = words_of(lead_client.post(accept, follow=True))
    assert "has been decided on already" in again
    assert Promise.objects.count() == 1


def test_the_lead_refuses_it_and_the_date_stands(theirs, lead_client):
    put_in(theirs, promised="3 feb")
    refuse = reverse("reply_refuse", args=[VendorReply.objects.get().pk])
    with assert_one_event("refused date"):
        lead_client.post(refuse)
    assert Job.objects.get(key="bumpers").promised == date(2027, 1, 29)
    assert "Dates vendors put in" not in words_of(lead_client.get(reverse("ring")))


def test_a_newer_date_replaces_the_one_that_waits(theirs):
    put_in(theirs, promised="3 feb")
    put_in(theirs, promised="any day now")
    states = VendorReply.objects.values_list("date", "state")
    assert list(states) == [(date(2027, 2, 3), "replaced"), (None, "open")]


def test_the_date_that_stands_is_confirmed_by_one_button(theirs):
    text = words_of(theirs.get(PAGE))
    assert 'name="promised" value="2027-01-29"' in text
    put_in(theirs, promised="2027-01-29")
    assert VendorReply.objects.get().date == date(2027, 1, 29)


@pytest.mark.parametrize("key", ["shell", "later", "nowhere"])
def test_nothing_is_put_in_for_what_is_not_with_them(theirs, key):
    assert put_in(theirs, key, promised="3 feb").status_code == 404
    assert not VendorReply.objects.exists()


def test_nothing_at_all_is_refused_in_words(theirs):
    answer = put_in(theirs)
    assert answer.status_code == 422
    assert "Write the day, or what they said instead." in words_of(answer)


def test_a_stranger_cannot_put_in_a_date(ours):
    assert put_in(Client(), promised="3 feb").status_code == 404
