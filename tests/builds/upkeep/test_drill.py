"""The drill: everything is lost, one command brings it back, and people go on."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test import Client
from django.urls import reverse

from builds.models import Build, Event, Forecast, User
from builds.planning.replan import replan
from tests.builds.upkeep.conftest import PASSWORD, odds
from tests.conftest import client_of


def only_copy(folder: Path) -> str:
    (path,) = folder.iterdir()
    return str(path)


def test_all_is_lost_and_comes_back(workshop, kept, everything, destroy, settings):
    before, promised = everything(), odds()
    call_command("backup")
    destroy()
    shutil.rmtree(settings.MEDIA_ROOT)
    call_command("restore", only_copy(kept))
    call_command("migrate", check_unapplied=True)
    assert everything() == before
    picture = Path(settings.MEDIA_ROOT, "q114", "sill.jpg")
    assert picture.read_bytes() == b"not really a picture"

    stranger = Client()
    sent = {"login": "lena", "password": PASSWORD}
    assert stranger.post(reverse("sign_in"), sent).status_code == 302
    assert stranger.get(reverse("morning")).status_code == 200
    owner = User.objects.get(username="arkwold")
    assert client_of(owner).get(reverse("my_car")).status_code == 200

    Forecast.objects.all().delete()
    replan()
    assert odds() == promised  # the seed lies in the workshop's own row


def test_what_came_after_the_copy_is_gone(workshop, kept, everything):
    before = everything()
    call_command("backup")
    Build.objects.update(name="spoilt")
    with pytest.raises(CommandError, match="--replace"):
        call_command("restore", only_copy(kept))
    call_command("restore", only_copy(kept), replace=True)
    assert everything() == before


@pytest.mark.django_db(transaction=True)
def test_an_empty_workshop_is_copied_and_put_back_too(kept):
    call_command("backup")
    call_command("restore", only_copy(kept))


def test_after_it_is_back_new_rows_get_numbers_of_their_own(workshop, kept, destroy):
    call_command("backup")
    destroy()
    call_command("restore", only_copy(kept))
    newest = Event.objects.create(verb="tried", subject="numbers")
    assert newest.pk == max(Event.objects.values_list("pk", flat=True))
    assert connection.vendor in ("sqlite", "postgresql")
