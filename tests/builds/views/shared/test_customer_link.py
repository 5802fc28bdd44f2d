"""A customer's address: hashed, changed for a cookie, over, taken back, replaced.

OWASP ASVS 5.0: 6.5.2 and 11.5.1 (random secrets, hashed), 14.2.1 (not in addresses),
7.4 (ended at once), 2.4.1 (limits); the figures of the limits are our own.
"""

from __future__ import annotations

import base64
import re
from datetime import timedelta

import pytest
import time_machine
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.access.tokens import digest_of
from builds.actions.knocks import LOOKS
from builds.actions.share_links import give_link, replace_link, revoke_link
from builds.models import Event, ShareKind, ShareLink
from tests.builds.views.records.pages import words_of

COOKIE = "car-link"


@pytest.fixture
def given(lena, car):
    return give_link(by=lena, kind=ShareKind.CAR, what=car)


@pytest.fixture
def holder(given):
    client = Client()
    client.get(reverse("car_link", args=[given[1]]))
    return client


def own_page(client):
    return client.get(reverse("car_by_link"))


def test_asvs_11_5_1_the_secret_has_256_bits_and_only_its_hash_is_kept(given):
    secret = given[1]
    assert len(base64.urlsafe_b64decode(secret + "=")) == 32
    kept = ShareLink.objects.values().get()
    assert secret not in str(kept)
    assert kept["digest"] == digest_of(secret)
    assert len(kept["shown"]) == 6
    assert secret not in str(list(Event.objects.values()))


def test_asvs_14_2_1_the_secret_leaves_the_address_at_once(given):
    client = Client()
    answer = client.get(reverse("car_link", args=[given[1]]))
    assert (answer.status_code, answer["Location"]) == (302, reverse("car_by_link"))
    cookie = answer.cookies[COOKIE]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"
    assert cookie["path"] == reverse("car_by_link")
    page = own_page(client)
    assert page.status_code == 200
    assert "Grey coupe" in words_of(page)
    assert given[1] not in words_of(page)


def test_it_opens_one_car_and_nothing_else(holder, other_car):
    assert "Red saloon" not in words_of(own_page(holder))
    for name in ("my_car", "morning", "bench", "addresses"):
        assert holder.get(reverse(name)).status_code == 302
    mine = holder.get(reverse("my_car_of_several", args=["coupe"]))
    assert mine.status_code == 302


@pytest.mark.parametrize("name", ["car_link", "car_by_link", "dates"])
def test_what_an_address_shows_stays_with_whoever_looks(given, holder, name):
    arguments = [] if name == "car_by_link" else [given[1]]
    answer = holder.get(reverse(name, args=arguments))
    assert answer["Referrer-Policy"] == "no-referrer"
    assert answer["X-Robots-Tag"] == "noindex, nofollow, noarchive"
    assert "no-store" in answer["Cache-Control"]


def test_wrong_over_and_taken_back_are_answered_alike(given, lena, car):
    wrong = Client().get(reverse("car_link", args=["A" * 43]))
    old, old_secret = give_link(by=lena, kind=ShareKind.CAR, what=car, days=1)
    ShareLink.objects.filter(pk=old.pk).update(expires_at=timezone.now())
    over = Client().get(reverse("car_link", args=[old_secret]))
    revoke_link(by=lena, link=given[0])
    revoked = Client().get(reverse("car_link", args=[given[1]]))
    token = re.compile(r'"x-csrftoken": "\w+"')
    found = {token.sub("", words_of(one)) for one in (wrong, over, revoked)}
    assert len(found) == 1
    assert wrong.status_code == 404


def test_taken_back_it_ends_for_who_is_looking(given, holder, lena):
    assert own_page(holder).status_code == 200
    revoke_link(by=lena, link=given[0])
    assert own_page(holder).status_code == 404


def test_it_ends_by_itself(given, holder):
    with time_machine.travel(timezone.now() + timedelta(days=91)):
        assert own_page(holder).status_code == 404


@pytest.mark.fault("F11")
def test_with_the_clock_set_back_it_still_opens_and_ends_when_it_should(given, holder):
    link = given[0]
    with time_machine.travel(timezone.now() - timedelta(hours=1)):
        assert own_page(holder).status_code == 200
    with time_machine.travel(link.expires_at - timedelta(minutes=1)):
        assert own_page(holder).status_code == 200
    with time_machine.travel(link.expires_at + timedelta(minutes=1)):
        assert own_page(holder).status_code == 404


@pytest.mark.fault("F11")
def test_with_the_clock_set_back_nobody_is_shut_out_for_an_hour(holder):
    now = timezone.now()
    with time_machine.travel(now, tick=False):
        codes = [own_page(holder).status_code for _ in range(LOOKS.most + 1)]
        assert codes[-1] == 429
    with time_machine.travel(now - timedelta(hours=1), tick=False):
        assert own_page(holder).status_code == 200


def test_replaced_the_old_one_opens_nothing_and_the_new_one_does(given, lena):
    _, secret = replace_link(by=lena, link=given[0])
    assert Client().get(reverse("car_link", args=[given[1]])).status_code == 404
    assert Client().get(reverse("car_link", args=[secret])).status_code == 302


def test_looks_by_a_preview_are_not_counted_and_a_visit_once(given, holder):
    for _ in range(3):
        Client().get(reverse("car_link", args=[given[1]]))
    assert ShareLink.objects.get().opened == 0
    own_page(holder)
    own_page(holder)
    link = ShareLink.objects.get()
    assert link.opened == 1
    assert link.opened_at
    with time_machine.travel(timezone.now() + timedelta(hours=1)):
        own_page(holder)
    assert ShareLink.objects.get().opened == 2


def test_a_calendars_secret_does_not_open_the_page(lena, car):
    _, secret = give_link(by=lena, kind=ShareKind.CAR_DATES, what=car)
    assert Client().get(reverse("car_link", args=[secret])).status_code == 404


def test_asvs_2_4_1_guessing_is_stopped(given):
    client = Client()
    for number in range(20):
        miss = client.get(reverse("car_link", args=[f"guess{number}"]))
        assert miss.status_code == 404
    stopped = client.get(reverse("car_link", args=[given[1]]))
    assert stopped.status_code == 429
    assert stopped["Retry-After"]
    elsewhere = Client(REMOTE_ADDR="10.0.0.9")
    assert elsewhere.get(reverse("car_link", args=[given[1]])).status_code == 302


def test_asvs_2_4_1_sixty_a_minute_are_enough(holder):
    codes = [own_page(holder).status_code for _ in range(70)]
    assert codes.count(200) in (58, 59, 60)
    assert codes[-1] == 429


def test_what_a_stranger_sends_along_is_believed_only_from_our_own_proxy(settings):
    from django.test import RequestFactory

    from builds.access.visitors import address_of

    asked = RequestFactory().get("/", HTTP_X_FORWARDED_FOR="1.1.1.1, 2.2.2.2")
    assert address_of(asked) == "127.0.0.1"
    settings.BEHIND_PROXY = True
    assert address_of(asked) == "2.2.2.2"


def test_the_lead_sees_it_once_and_then_never_again(lead_client, car):
    sent = {"opens": "car:coupe", "days": "30"}
    page = words_of(lead_client.post(reverse("addresses"), sent, follow=True))
    assert "/your-car/" in page
    secret = page.split("/your-car/")[1].split("/")[0]
    assert secret not in words_of(lead_client.get(reverse("addresses")))
    assert Client().get(reverse("car_link", args=[secret])).status_code == 302
    link = ShareLink.objects.get()
    assert timedelta(29) < link.expires_at - timezone.now() <= timedelta(30)


@pytest.mark.parametrize("days", ["0", "400", "soon"])
def test_no_address_holds_for_ever(lead_client, car, days):
    answer = lead_client.post(
        reverse("addresses"), {"opens": "car:coupe", "days": days}
    )
    assert answer.status_code == 422
    assert not ShareLink.objects.exists()
