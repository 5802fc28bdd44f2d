"""A folder of plan files, answered by processes or through the queue."""

import json
import os
import subprocess
import sys
from unittest import mock

import pytest
from django.conf import settings as project
from django.core.management import CommandError, call_command

import scheduling
from builds.models import PlanFile
from builds.planning.many import answer_file
from builds.tasks import files as tasks

EFFORT = ("--schedules", "1", "--samples", "20")


@pytest.fixture
def folder(tmp_path):
    for hours in (3, 5, 8):
        write(tmp_path / f"shop-{hours}.json", hours)
    return tmp_path


def write(path, hours):
    row = {"id": "weld", "estimate": {"likely": hours, "fixed": True}}
    path.write_text(json.dumps({"now": "2027-01-11T08:00", "jobs": [row]}))


def answers(folder):
    found = folder.glob("*.answer.json")
    return {one.name: json.loads(one.read_text())["duration_hours"] for one in found}


WANTED = {f"shop-{hours}.answer.json": float(hours) for hours in (3, 5, 8)}


@pytest.mark.django_db
def test_every_file_gets_its_answer_and_the_second_time_nothing_is_computed(
    folder, capsys
):
    call_command("answer_many", folder, *EFFORT)
    assert answers(folder) == WANTED
    assert "3 of 3 answered" in capsys.readouterr().out
    with mock.patch.object(scheduling, "answer") as engine:
        call_command("answer_many", folder, *EFFORT, out=folder / "again")
    engine.assert_not_called()
    assert answers(folder / "again") == WANTED


@pytest.mark.django_db
def test_a_wrong_file_is_told_and_does_not_hold_up_the_others(folder, capsys):
    (folder / "bad.json").write_text('{"jobs": [{"id": "a", "after": ["b"]}]}')
    with pytest.raises(CommandError, match=r"Not answered: bad\.json"):
        call_command("answer_many", folder, *EFFORT)
    assert 'bad.json: jobs[0] "a".after[0]: names a job' in capsys.readouterr().err
    assert answers(folder) == WANTED


@pytest.mark.django_db
def test_an_empty_folder_is_told(tmp_path):
    with pytest.raises(CommandError, match="no plan file"):
        call_command("answer_many", tmp_path)


@pytest.mark.django_db
def test_with_a_queue_they_are_handed_over(folder, settings):
    settings.REDIS_URL = "redis://localhost:1/0"

    def worker(pk):
        answer_file(pk)

    with mock.patch.object(tasks.answer_plan_file, "delay", worker):
        call_command("answer_many", folder, *EFFORT)
    assert answers(folder) == WANTED
    assert PlanFile.objects.count() == 3


def test_two_processes_share_the_work(folder):
    """As it is run: processes of their own, over one database in a file."""
    environment = os.environ | {
        "DATABASE_URL": f"sqlite:///{folder / 'many.sqlite3'}",
        "REDIS_URL": "",
        "DEBUG": "1",
    }

    def run(*command):
        done = subprocess.run(
            [sys.executable, "manage.py", *command],
            cwd=project.BASE_DIR,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    run("migrate", "-v0")
    assert "3 of 3" in run("answer_many", str(folder), "--workers", "2", *EFFORT)
    assert answers(folder) == WANTED
