"""A vendor's private link. OWASP ASVS 5.0: 11.5.1 (at least 128 bits), 6.5.2 (a hash
is kept), 14.2.1 (no secret in the address of a page), 2.4.1 (limits)."""

import base64
import re
from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.actions.vendor_links import make_link, replace_link, revoke_link
from builds.models import Event, Job, Knocks, Promise, VendorLink, VendorReply
from builds.views.promises.private import COOKIE, LOOKS, MISSES
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import words_of
from tests.factories.job import OutsideJobFactory
from tests.factories.vendor import VendorFactory

OUT = {"state": "under way", "started": "2027-01-04T08:00", "sent": "2027-01-04"}
PAGE = reverse("private_page")


@pytest.fixture
def plater(shop):
    return VendorFactory(
        key="plater", name="Brindle", note="Slow payer", minimum_charge=120
    )


@pytest.fixture
def ours(car, other_car, plater):
    painter = VendorFactory(key="painter", name="Larkhollow")
    OutsideJobFactory(
        key="bumpers", title="Bumpers", build=car, vendor=plater, pieces=14,
        promised="2027-01-29", note="Do not let Carla know", value=900, **OUT,
    )  # fmt: skip
    OutsideJobFactory(
        key="shell", title="Shell in primer", build=other_car, vendor=painter, **OUT
    )
    OutsideJobFactory(key="later", title="Grille bars", build=car, vendor=plater)


@pytest.fixture
def link(lena, plater):
    return make_link(by=lena, vendor=plater)


def door(token):
    return reverse("private_door", args=[token])


@pytest.fixture
def theirs(ours, link):
    """A vendor who has opened the link."""
    client = Client()
    answer = client.get(door(link[1]))
    assert answer["Location"] == PAGE
    return client


def test_the_token_is_256_bits_and_only_its_hash_is_kept(link):
    row, token = link
    assert len(base64.urlsafe_b64decode(token + "=")) * 8 == 256
    kept = " ".join(map(str, VendorLink.objects.values_list()[0]))
    assert token not in kept
    assert row.start == token[:6]
    assert token not in str([(one.after, one.before) for one in Event.objects.all()])


def test_the_first_look_hands_the_token_over_for_a_cookie(ours, link):
    answer = Client().get(door(link[1]))
    assert (answer.status_code, answer["Location"]) == (302, PAGE)
    cookie = answer.cookies[COOKIE]
    assert (cookie["path"], cookie["httponly"]) == ("/v/", True)
    assert link[1] not in answer["Location"]


@pytest.mark.parametrize("where", ["door", "page"])
def test_nobody_keeps_or_passes_on_these_pages(theirs, link, where):
    answer = theirs.get(door(link[1]) if where == "door" else PAGE)
    assert answer["Referrer-Policy"] == "no-referrer"
    assert answer["X-Robots-Tag"] == "noindex, nofollow, noarchive"
    assert answer["Cache-Control"] == "no-store"


def test_only_their_own_pieces_and_dates_are_shown(theirs):
    text = words_of(theirs.get(PAGE))
    for words in ("Brindle", "Bumpers", "14 pieces", "Fri 29 Jan 2027"):
        assert words in text
    for words in (
        "Carla", "Grey coupe", "Otto", "Larkhollow", "Shell in primer", "Grille bars",
        "120", "900", "Slow payer", "Do not let",
    ):  # fmt: skip
        assert words not in text


def test_openings_are_counted_and_looks_change_nothing_else(theirs, link):
    theirs.get(door(link[1]))
    row = VendorLink.objects.get()
    assert row.opened == 2
    assert row.last_opened_at is not None
    assert not Promise.objects.exists()


def gone(client, where) -> tuple[int, str, dict]:
    answer = client.get(where)
    names = ("Referrer-Policy", "X-Robots-Tag", "Cache-Control", "Content-Type")
    text = re.sub(r'"x-csrftoken": "[^"]*"', "", answer.content.decode())
    return answer.status_code, text, {name: answer[name] for name in names}


def test_wrong_expired_revoked_and_guessed_get_the_same_answer(lena, link, plater):
    row, token = link
    _, old = make_link(by=lena, vendor=plater)
    VendorLink.objects.exclude(pk=row.pk).update(expires_at=timezone.now())
    revoke_link(by=lena, link=row)
    answers = [
        gone(Client(), door(one)) for one in (token, old, token[:-1] + "-", "guessed")
    ]
    assert answers[0][0] == 404
    assert all(one == answers[0] for one in answers)
    # a cookie left from before gets it too, and so does no cookie at all
    kept = Client()
    kept.cookies[COOKIE] = token
    assert gone(kept, PAGE) == gone(Client(), PAGE) == answers[0]


def test_a_replaced_link_leads_nowhere_and_the_new_one_does(lena, link, plater):
    _, token = replace_link(by=lena, link=link[0])
    assert Client().get(door(link[1])).status_code == 404
    assert Client().get(door(token)).status_code == 302


def test_a_link_revoked_while_the_page_is_open_ends_at_once(theirs, lena, link):
    revoke_link(by=lena, link=link[0])
    assert theirs.get(PAGE).status_code == 404


def test_twenty_misses_in_ten_minutes_and_no_more(link):
    client = Client()
    for _ in range(MISSES):
        assert client.get(door("guessed")).status_code == 404
    assert client.get(door("guessed")).status_code == 429
    assert client.get(door(link[1])).status_code == 429
    elsewhere = Client(REMOTE_ADDR="192.0.2.7")  # RFC 5737, for documentation
    assert elsewhere.get(door(link[1])).status_code == 302


def test_misses_are_forgotten_after_their_time(link):
    client = Client()
    for _ in range(MISSES):
        client.get(door("guessed"))
    Knocks.objects.update(since=timezone.now() - timedelta(minutes=11))
    assert client.get(door(link[1])).status_code == 302


def test_one_link_is_looked_at_so_often_a_minute(theirs):
    for _ in range(LOOKS - 1):  # opening it was one look
        assert theirs.get(PAGE).status_code == 200
    assert theirs.get(PAGE).status_code == 429


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


# The lead's side


def test_the_lead_makes_a_link_and_sees_it_once(lead_client, plater):
    links = reverse("vendor_links", args=["plater"])
    made = lead_client.post(
        reverse("vendor_link_make", args=["plater"]), {"days": "30"}, follow=True
    )
    address = re.search(r'value="(http://testserver/v/in/[^"]+/)"', words_of(made))
    assert address
    assert address[1] not in words_of(lead_client.get(links))
    assert Client().get(address[1]).status_code == 302
    left = VendorLink.objects.get().expires_at - timezone.now()
    assert timedelta(days=29) < left <= timedelta(days=30)
    assert "Opened 1 time" in words_of(lead_client.get(links))


@pytest.mark.parametrize("days", ["0", "366", "for ever", ""])
def test_a_link_does_not_last_for_ever(lead_client, plater, days):
    made = lead_client.post(
        reverse("vendor_link_make", args=["plater"]), {"days": days}
    )
    assert made.status_code == 422
    assert not VendorLink.objects.exists()


def test_the_lead_revokes_and_replaces(lead_client, link, plater):
    row, token = link
    with assert_one_event("revoked vendor link"):
        lead_client.post(reverse("vendor_link_revoke", args=["plater", row.pk]))
    assert Client().get(door(token)).status_code == 404
    lead_client.post(reverse("vendor_link_replace", args=["plater", row.pk]))
    assert [one.is_open(timezone.now()) for one in VendorLink.objects.all()] == [
        True,
        False,
    ]


def test_the_link_of_another_vendor_is_not_there(lead_client, link):
    VendorFactory(key="painter")
    for name in ("vendor_link_revoke", "vendor_link_replace"):
        where = reverse(name, args=["painter", link[0].pk])
        assert lead_client.post(where).status_code == 404
    assert VendorLink.objects.get().revoked_at is None
