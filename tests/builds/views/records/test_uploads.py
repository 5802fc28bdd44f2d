"""Files handed in: so many a minute from one person, and none that does harm."""

from __future__ import annotations

from datetime import timedelta

import pytest
import time_machine
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from builds.actions.knocks import UPLOADS
from builds.models import Event, SheetFile
from tests.builds.views.records.pages import words_of
from tests.conftest import client_of
from tests.factories.people import UserFactory
from tests.sheets.books import no_end, repacked, xlsx

MOST = UPLOADS.most
QUICK = b"\0 no sheet"  # refused at once: how often they come is what counts


def send(client, name="move_in", data=b"Job\nSand\n", called="jobs.csv"):
    file = SimpleUploadedFile(called, data)
    return client.post(reverse(name), {"file": file})


def test_asvs_2_4_1_and_more_twenty_files_a_minute_are_enough(lead_client):
    with time_machine.travel(timezone.now(), tick=False) as clock:
        codes = [send(lead_client, data=QUICK).status_code for _ in range(MOST)]
        assert set(codes) == {422}
        refused = send(lead_client)
        assert refused.status_code == 429
        assert refused["Retry-After"] == "60"
        assert "too often" in words_of(refused)
        assert not SheetFile.objects.exists()
        clock.shift(timedelta(seconds=61))
        assert send(lead_client).status_code == 302


def test_one_form_or_another_is_the_same_limit(lead_client):
    for number in range(MOST):
        name = ("move_in", "exchange")[number % 2]
        assert send(lead_client, name, QUICK).status_code == 422
    assert send(lead_client, "exchange").status_code == 429


def test_everybody_has_a_limit_of_their_own(lead_client):
    for _ in range(MOST + 1):
        send(lead_client, data=QUICK)
    other = client_of(UserFactory(username="lars", role="lead"))
    assert send(other).status_code == 302


def test_a_stranger_is_counted_by_where_they_come_from(shop):
    for _ in range(MOST):
        assert send(Client(), data=QUICK).status_code == 302  # to sign in
    assert send(Client(), data=QUICK).status_code == 429
    elsewhere = Client(REMOTE_ADDR="198.51.100.7")
    assert send(elsewhere, data=QUICK).status_code == 302


def test_forms_without_a_file_are_not_counted(lead_client):
    for _ in range(MOST + 5):
        assert lead_client.post(reverse("move_in"), {}).status_code == 422


@pytest.mark.parametrize(
    "bomb",
    [
        no_end(),
        repacked(xlsx(("Job",)), xl__media__a=bytes(20 << 20)),
        b"x," * (5 << 19),
    ],
    ids=["cells without an end", "a zip that grows", "commas"],
)
def test_a_file_made_to_exhaust_is_refused_and_the_site_goes_on(bomb, lead_client):
    answer = send(lead_client, data=bomb, called="jobs.xlsx")
    assert answer.status_code == 422
    assert "Nothing is saved yet" in words_of(answer)
    assert not SheetFile.objects.exists()
    assert not Event.objects.filter(verb="handed in sheet").exists()
    assert lead_client.get(reverse("people")).status_code == 200
