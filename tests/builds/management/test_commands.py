"""What can be done from a terminal."""

import json
import subprocess
import sys

import pytest
from django.conf import settings as project
from django.core.management import CommandError, call_command

import scheduling
from builds.actions.demo import PASSWORD
from builds.demo.plan import demo_plan
from builds.models import Build, Forecast, Update, User, Workshop

GOOD = {
    "now": "2027-01-11T08:00",
    "jobs": [
        {"id": "fit", "estimate": {"likely": 4, "fixed": True}},
        {"id": "weld", "estimate": {"likely": 8, "fixed": True}, "after": ["fit"]},
    ],
}
BAD = {
    "jobs": [
        {"id": "a", "estimate": {"likely": 1}, "after": ["nowhere"]},
        {"id": "b", "estimate": {"likely": 1}, "build": "nowhere"},
    ]
}


@pytest.fixture
def good(tmp_path):
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(GOOD))
    return str(path)


@pytest.fixture
def bad(tmp_path):
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(BAD))
    return str(path)


def test_readiness_needs_no_database_and_no_settings(good):
    """As a stranger runs it: a bare environment and a file."""
    done = subprocess.run(
        [sys.executable, "manage.py", "readiness", good, "--json", "--samples", "20"],
        cwd=project.BASE_DIR,
        env={"PATH": "", "DATABASE_URL": "sqlite:////nowhere/at/all.sqlite3"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    answer = json.loads(done.stdout)
    assert answer["now"] == GOOD["now"]
    # Four hours and eight more, by a clock that never stops.
    assert answer["jobs"]["weld"]["planned_finish"] == "2027-01-11T20:00"
    assert answer["duration_hours"] == 12


def test_readiness_prints_a_page_to_read(good, capsys):
    call_command("readiness", good, samples=20)
    assert "weld" in capsys.readouterr().out


def test_readiness_of_the_database(shop, capsys):
    call_command("readiness", json=True, samples=20, schedules=1)
    assert json.loads(capsys.readouterr().out)["now"] == "2027-01-11T08:00"


def test_every_fault_of_a_file_has_a_line_of_its_own(bad, capsys):
    with pytest.raises(SystemExit) as stop:
        call_command("readiness", bad, json=True)
    assert stop.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    lines = err.splitlines()
    assert len(lines) == 2
    assert all("nowhere" in line for line in lines)


@pytest.mark.parametrize("text", ["", "{", "[]", "\x00", '{"jobs": 5}'])
def test_what_is_no_plan_is_refused(tmp_path, text, capsys):
    path = tmp_path / "plan.json"
    path.write_text(text)
    with pytest.raises(SystemExit) as stop:
        call_command("readiness", str(path))
    assert stop.value.code == 2
    assert capsys.readouterr().err


def test_a_file_that_is_not_there_is_named(capsys):
    with pytest.raises(SystemExit) as stop:
        call_command("readiness", "nowhere.json")
    assert stop.value.code == 2
    assert "nowhere.json" in capsys.readouterr().err


@pytest.mark.parametrize(
    "option", ["--samples=0", "--seed=-1", "--seconds=long", "--schedules=0"]
)
def test_an_effort_that_cannot_be_is_refused(good, option):
    with pytest.raises(CommandError):
        call_command("readiness", good, option)


@pytest.mark.django_db
def test_the_workshop_goes_out_and_comes_back(good, tmp_path, capsys):
    call_command("import_plan", good, "--stop-clock")
    call_command("export_plan", str(tmp_path / "out.json"))
    out = (tmp_path / "out.json").read_text(encoding="utf-8")
    assert scheduling.read_plan(out) == scheduling.read_plan(GOOD)
    call_command("export_plan")
    assert out in capsys.readouterr().out


def test_a_file_with_faults_is_not_imported(bad, car, capsys):
    with pytest.raises(SystemExit) as stop:
        call_command("import_plan", bad)
    assert stop.value.code == 2
    assert len(capsys.readouterr().err.splitlines()) == 2
    assert Build.objects.get() == car


def test_draining_says_how_many_waited(shop, capsys):
    Forecast.objects.create()
    call_command("drain")
    assert "1 waited" in capsys.readouterr().out
    assert Forecast.objects.get().state == "done"


def test_a_forecast_by_hand(shop, capsys):
    call_command("replan")
    assert "Answered in" in capsys.readouterr().out


@pytest.mark.django_db
class TestDemo:
    def test_loaded_twice_it_is_there_once(self, settings):
        settings.DEMO = True
        call_command("load_demo")
        before = (User.objects.count(), Update.objects.count(), Build.objects.count())
        call_command("load_demo")
        after = (User.objects.count(), Update.objects.count(), Build.objects.count())
        assert before == after
        assert Workshop.current().clock().isoformat()[:16] == demo_plan()["now"]

    def test_its_people_sign_in_where_it_is_a_demo(self, settings):
        settings.DEMO = True
        call_command("load_demo")
        assert all(user.check_password(PASSWORD) for user in User.objects.all())
        owner = User.objects.filter(role="customer").first()
        assert owner.cars.count() == 1

    def test_nowhere_else_does_anybody_have_a_known_password(self):
        call_command("load_demo")
        assert not any(user.has_usable_password() for user in User.objects.all())

    def test_it_does_not_push_real_cars_aside(self, car):
        with pytest.raises(CommandError):
            call_command("load_demo")
        assert Build.objects.get() == car

    def test_asked_to_it_leaves_what_is_there(self, car, settings, capsys):
        settings.DEMO = True
        call_command("load_demo", if_empty=True)
        assert Build.objects.get() == car
        assert capsys.readouterr().out == "The workshop is as you left it.\n"
