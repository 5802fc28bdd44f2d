"""What people are told when new dates do not come, or no copy was made."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.models import Forecast, ForecastState, LifeSign
from tests.conftest import client_of

pytestmark = pytest.mark.django_db
AWAY = "redis://127.0.0.1:1/0"


def asked(**ago: int) -> None:
    Forecast.objects.create(
        state=ForecastState.QUEUED, asked_at=timezone.now() - timedelta(**ago)
    )


def seen(name: str, **ago: int) -> None:
    LifeSign.objects.create(name=name, at=timezone.now() - timedelta(**ago))


def shown(user) -> str:
    page = {"lead": "people", "technician": "bench", "customer": "my_car"}[user.role]
    return " ".join(client_of(user).get(reverse(page)).content.decode().split())


def test_a_wish_just_made_is_nothing_to_speak_of(lena):
    asked(seconds=30)
    assert "nobody has begun" not in shown(lena)


@pytest.mark.fault("F4")
def test_a_wish_nobody_has_begun_is(lena, tom):
    asked(minutes=12)
    for user in (lena, tom):
        text = shown(user)
        assert "asked for 12 minutes ago, and nobody has begun" in text
        assert "Being worked out" not in text


@pytest.mark.fault("F17")
def test_a_worker_that_has_been_silent_for_ten_minutes_is(lena, settings, client):
    settings.REDIS_URL = AWAY
    seen(LifeSign.WORKER, minutes=11)
    assert "not been heard of for 11 minutes" in shown(lena)
    assert "worker" in client.get("/readyz").json()["alarms"]


def test_a_customer_is_not_troubled_with_machines(carla, settings):
    settings.REDIS_URL, settings.BACKUP_FOLDER = AWAY, "/somewhere"
    asked(minutes=12)
    seen(LifeSign.WORKER, minutes=12)
    text = shown(carla)
    assert "machine" not in text
    assert "copy of everything" not in text


def test_the_lead_hears_of_an_old_copy_and_of_none(lena, tom, settings):
    settings.BACKUP_FOLDER = "/somewhere"
    assert "No copy of everything has been made yet" in shown(lena)
    assert "copy of everything" not in shown(tom)
    seen(LifeSign.COPY, hours=30)
    assert "copy of everything is 30 hours old" in shown(lena)
