"""Whether the site is well, and who is told what of it."""

from __future__ import annotations

from datetime import timedelta
from unittest import mock

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from builds.models import LifeSign
from builds.upkeep import health
from builds.upkeep.checks import no_task_runs_twice

AWAY = "redis://127.0.0.1:1/0"

pytestmark = pytest.mark.django_db


def alarms(client) -> list[str]:
    return client.get("/readyz").json()["alarms"]


def seen(name: str, **ago: int) -> None:
    LifeSign.leave(name)
    LifeSign.objects.filter(name=name).update(at=timezone.now() - timedelta(**ago))


def test_a_site_that_lacks_nothing_is_ready(client):
    assert client.get("/healthz").content == b"well\n"
    answer = client.get("/readyz")
    assert answer.status_code == 200
    assert answer.json() == {"ready": True, "alarms": []}


def test_only_the_lead_is_told_versions(client, lead_client, technician_client):
    assert "says" not in client.get("/readyz").json()
    assert "says" not in technician_client.get("/readyz").json()
    says = lead_client.get("/readyz").json()["says"]
    assert connection.vendor.lower() in says["database"].lower()
    assert says["disk"].endswith("MB free")


def test_without_its_database_it_is_not_ready_and_says_when_to_ask_again(client):
    with mock.patch.object(LifeSign, "leave", side_effect=DatabaseError("gone")):
        answer = client.get("/readyz")
    assert answer.status_code == 503
    assert answer["Retry-After"]
    assert answer.json() == {"ready": False, "alarms": ["database"]}
    assert client.get("/healthz").status_code == 200


def test_with_a_migration_to_be_applied_it_is_not_ready(client):
    last = MigrationRecorder.Migration.objects.filter(app="builds").last()
    last.delete()
    answer = client.get("/readyz")
    assert answer.status_code == 503
    assert "migrations" in answer.json()["alarms"]


def test_a_queue_that_is_away_is_an_alarm_and_people_still_work(client, settings):
    settings.REDIS_URL = AWAY
    answer = client.get("/readyz")
    assert answer.status_code == 200
    assert answer.json()["alarms"] == ["queue", "worker"]


def test_a_worker_is_an_alarm_when_it_has_been_silent(client, settings):
    settings.REDIS_URL = AWAY
    seen(LifeSign.WORKER, minutes=4)
    assert "worker" not in alarms(client)
    seen(LifeSign.WORKER, minutes=6)
    assert "worker" in alarms(client)


def test_a_copy_is_due_every_night(client, settings):
    settings.BACKUP_FOLDER = "/somewhere"
    assert alarms(client) == ["copy"]
    seen(LifeSign.COPY, hours=25)
    assert alarms(client) == []
    seen(LifeSign.COPY, hours=27)
    assert alarms(client) == ["copy"]


def test_a_disk_that_fills_is_an_alarm_before_it_is_full(client, settings):
    settings.DISK_FLOOR_MB = 10**9
    assert alarms(client) == ["disk"]


def test_an_old_library_is_well_only_without_a_log_that_two_share():
    """sqlite.org/wal.html, "The WAL-reset bug": mended in 3.51.3."""
    for version, journal, sound in (
        ("3.40.1", "wal", False),
        ("3.40.1", "delete", True),
        ("3.51.3", "wal", True),
    ):
        with (
            mock.patch.object(health, "_sqlite_version", return_value=version),
            mock.patch.object(health, "_journal", return_value=journal),
        ):
            assert health._sound() is sound


def test_the_terminal_says_the_same_and_ends_with_a_number(capsys, settings):
    call_command("ready")
    assert "well  database" in capsys.readouterr().out
    settings.BACKUP_FOLDER = "/somewhere"
    with pytest.raises(SystemExit) as ended:
        call_command("ready")
    assert ended.value.code == 1
    assert "ALARM copy: never seen" in capsys.readouterr().out


def test_a_sign_of_life_from_before_the_clock_was_set_back_is_no_age():
    LifeSign.objects.create(name="x", at=timezone.now() + timedelta(hours=1))
    assert LifeSign.ages() == {"x": timedelta()}


@pytest.mark.fault("F3")
def test_limits_under_which_a_task_would_run_twice_do_not_start(settings):
    """Celery's documentation, "Redis caveats: visibility timeout"."""
    assert no_task_runs_twice() == []
    settings.CELERY_TASK_TIME_LIMIT = 300
    assert [one.id for one in no_task_runs_twice()] == ["builds.E001"]


def test_that_the_process_answers_is_said_without_the_database(
    lead_client, django_assert_num_queries
):
    with django_assert_num_queries(0):
        assert lead_client.get("/healthz").status_code == 200
