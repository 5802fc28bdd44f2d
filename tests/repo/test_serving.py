"""What a served site is made of: the image, the services, the units.

There is no container engine under test, so the files are read. Sources of the rules:
Docker's "Building best practices", the Compose specification, systemd.exec(5).
"""

from __future__ import annotations

import re
from configparser import ConfigParser
from pathlib import Path
from typing import Any

import pytest
import yaml
from celery.schedules import crontab
from django.conf import settings

from builds.celery import app

ROOT = Path(settings.BASE_DIR)
COMPOSE: dict[str, Any] = yaml.safe_load((ROOT / "compose.yaml").read_text())
SERVICES: dict[str, dict[str, Any]] = COMPOSE["services"]
OURS = ("upgrade", "web", "worker", "clock")
IMAGE = (ROOT / "Dockerfile").read_text()
LAST_ROOM = IMAGE.split("\nFROM ")[-1]
UNITS = re.findall(
    r"```ini\n# (\S+?)(?:,[^\n]*)?\n(.*?)```",
    (ROOT / "DEVELOPERS.md").read_text(),
    re.S,
)
SECRETS = {"SECRET_KEY", "POSTGRES_PASSWORD", "BACKUP_KEY", "ALLOWED_HOSTS"}


def test_the_image_is_built_in_rooms_and_runs_as_nobody_in_particular():
    assert IMAGE.count("\nFROM ") == 2
    assert re.search(r"\nUSER (?!root)\w+\n", LAST_ROOM)
    assert LAST_ROOM.index("USER site") < LAST_ROOM.index("\nCMD ")
    assert "\nHEALTHCHECK " in LAST_ROOM
    assert not re.search(r"^ADD |:latest|sudo", IMAGE, re.M)


def test_every_image_names_its_version():
    images = re.findall(r"^FROM (\S+)", IMAGE, re.M)
    images += [one["image"] for one in SERVICES.values() if "build" not in one]
    assert all(re.fullmatch(r"[\w/]+:[\w.-]*\d[\w.-]*", one) for one in images)


def test_no_secret_is_in_the_image():
    ignored = (ROOT / ".dockerignore").read_text().splitlines()
    assert ignored[0] == "*"  # what is not named stays out
    assert not re.search(r"^(?:ENV|ARG).*(?:KEY|PASSWORD|SECRET)", IMAGE, re.M)


def test_what_the_image_copies_is_there():
    for line in re.findall(r"^COPY (?!--from)(.+)$", IMAGE, re.M):
        for name in line.split()[:-1]:
            assert (ROOT / name).exists(), name


@pytest.mark.parametrize("name", OURS)
def test_our_services_may_do_no_more_than_they_must(name):
    service = SERVICES[name]
    assert service["read_only"] is True
    assert service["cap_drop"] == ["ALL"]
    assert "no-new-privileges:true" in service["security_opt"]


def test_nothing_is_open_to_the_outside_but_the_pages_and_they_to_the_proxy():
    opened = {name: one["ports"] for name, one in SERVICES.items() if "ports" in one}
    assert opened == {"web": ["127.0.0.1:8000:8000"]}


def test_without_a_secret_nothing_starts():
    """Compose specification, interpolation: `${NAME:?words}` must be set."""
    text = (ROOT / "compose.yaml").read_text()
    used = set(re.findall(r"\$\{(\w+):\?", text))
    assert used == SECRETS
    for name in SECRETS:
        assert not re.search(rf"\$\{{{name}(?!:\?)", text)


def test_what_it_sets_is_a_setting():
    known = set(re.findall(r'env(?:\.\w+)?\(\s*"([A-Z_]+)"',
                           (ROOT / "builds" / "settings.py").read_text()))  # fmt: skip
    assert set(SERVICES["web"]["environment"]) <= known


def test_redis_writes_down_what_it_holds_and_forgets_nothing():
    command = SERVICES["queue"]["command"]
    for name, value in (
        ("--appendonly", "yes"),
        ("--appendfsync", "everysec"),
        ("--maxmemory-policy", "noeviction"),
    ):
        assert command[command.index(name) + 1] == value


def test_there_is_one_clock_and_the_worker_has_none():
    beats = [name for name in OURS if "beat" in SERVICES[name].get("command", [])]
    assert beats == ["clock"]
    assert not any("--beat" in str(one.get("command")) for one in SERVICES.values())


def test_a_server_is_given_longer_to_stop_than_it_takes():
    """gunicorn finishes what it has begun in 30 s; a task may take 120."""
    assert SERVICES["web"]["stop_grace_period"] == "35s"
    assert '--graceful-timeout", "30' in IMAGE
    assert SERVICES["worker"]["stop_grace_period"] == "2m"


def test_everything_waits_for_the_upgrade():
    for name in ("web", "worker", "clock"):
        wanted = SERVICES[name]["depends_on"]["upgrade"]["condition"]
        assert wanted == "service_completed_successfully"


def test_the_clock_asks_for_what_there_is():
    app.loader.import_default_modules()
    for entry in app.conf.beat_schedule.values():
        assert entry["task"] in app.tasks
        assert isinstance(entry["schedule"], float | crontab)


def test_there_are_units_for_all_of_it():
    names = {Path(name).name for name, _ in UNITS}
    assert names == {
        "workshop-web.service",
        "workshop-worker.service",
        "workshop-copy.service",
        "workshop-copy.timer",
    }


@pytest.mark.parametrize(("name", "text"), UNITS)
def test_a_unit_can_be_read_and_runs_as_nobody_in_particular(name, text):
    unit = ConfigParser(interpolation=None)
    unit.optionxform = str  # type: ignore[method-assign,assignment]
    unit.read_string(text)
    assert unit["Unit"]["Description"]
    if name.endswith(".timer"):
        assert unit["Timer"]["Persistent"] == "true"
        return
    service = unit["Service"]
    assert service["User"] == "site"
    assert service["EnvironmentFile"] == "/etc/workshop.env"
    module = re.search(r"builds\.wsgi|-A builds|manage\.py \w+", service["ExecStart"])
    assert module
