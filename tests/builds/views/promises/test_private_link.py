"""A vendor's private link. OWASP ASVS 5.0: 11.5.1 (at least 128 bits), 6.5.2 (a hash
is kept), 14.2.1 (no secret in the address of a page), 2.4.1 (limits)."""

import base64
import re
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.actions.knocks import LOOKS, MISSES
from builds.actions.vendor_links import make_link, replace_link, revoke_link
from builds.models import Event, Knocks, Promise, VendorLink
from builds.views.promises.private import COOKIE
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import words_of
from tests.factories.vendor import VendorFactory

OUT = {"state": "under way", "started": "2027-01-04T08:00", "sent": "2027-01-04"}
PAGE = reverse("private_page")


def door(token):
    return reverse("private_door", args=[token])


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
    told = {"door": "no-referrer", "page": "same-origin"}
    assert answer["Referrer-Policy"] == told[where]
    assert answer["X-Robots-Tag"] == "noindex, nofollow, noarchive"
    assert answer["Cache-Control"] == "no-store"


def test_only_their_own_pieces_and_dates_are_shown(theirs):
    text = re.sub(r"\w{32,}", "", words_of(theirs.get(PAGE)))  # words drawn by chance
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
    for _ in range(MISSES.most):
        assert client.get(door("guessed")).status_code == 404
    assert client.get(door("guessed")).status_code == 429
    assert client.get(door(link[1])).status_code == 429
    elsewhere = Client(REMOTE_ADDR="192.0.2.7")  # RFC 5737, for documentation
    assert elsewhere.get(door(link[1])).status_code == 302


def test_misses_are_forgotten_after_their_time(link):
    client = Client()
    for _ in range(MISSES.most):
        client.get(door("guessed"))
    Knocks.objects.update(since=timezone.now() - timedelta(minutes=11))
    assert client.get(door(link[1])).status_code == 302


def test_one_link_is_looked_at_so_often_a_minute(theirs):
    for _ in range(LOOKS.most - 1):  # opening it was one look
        assert theirs.get(PAGE).status_code == 200
    assert theirs.get(PAGE).status_code == 429


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
