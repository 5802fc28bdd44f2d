"""The documents say what is there, and what they show really runs."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

import scheduling

ROOT = Path(settings.BASE_DIR)
DOCUMENTS = (
    "README.md",
    "DEVELOPERS.md",
    "builds/DECISIONS.md",
    "scheduling/DECISIONS.md",
)
LONGEST = 250
# Longer ones, each with its reason.
LONG = {
    "builds/settings.py": "one setting after another, by what it is about",
    "scheduling/plan.py": "one frozen record after another, nothing else",
    "scheduling/network.py": "one build-up; each half would need the other's names",
    "tests/builds/actions/test_every_action.py": "one row for each action",
    "tests/builds/actions/test_undo.py": "one case for each act and what bars it",
    "tests/builds/planning/test_search.py": "one case for each end of a long look",
    "tests/builds/views/lead/test_job_acts.py": "one test for each act on a job",
    "tests/scheduling/strategies.py": "one strategy for each key of the plan file",
    "tests/scheduling/test_bad_input.py": "one wrong file after another",
    "tests/scheduling/test_plan_checks.py": "one wrong plan after another",
    "tests/scheduling/test_plan_file.py": "one key of the plan file after another",
}
PLACE = re.compile(
    r"[(`\s]((?:builds|scheduling|sheets|templates|tests|\.ci)/[\w./-]*[\w/]|[\w.-]+\.(?:txt|toml))"
)


def text(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def run(*command: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *command],
        cwd=ROOT,
        env={"PATH": os.environ["PATH"]} | environment,
        capture_output=True,
        text=True,
        check=False,
    )


def exported() -> set[str]:
    return set(re.findall(r" as (\w+)$", text("scheduling/__init__.py"), re.M))


def targets() -> set[str]:
    return set(re.findall(r"^([a-z-]+):.*## ", text("Makefile"), re.M))


def code() -> list[Path]:
    folders = ("builds", "scheduling", "sheets", "templates", "tests")
    kinds = {".py", ".html", ".css", ".js"}
    return [
        path
        for folder in folders
        for path in (ROOT / folder).rglob("*")
        if path.suffix in kinds and "migrations" not in path.parts
    ]


def test_the_door_of_the_engine_is_what_we_think():
    assert {"read_plan", "answer", "check_plan"} <= exported()
    assert all(hasattr(scheduling, name) for name in exported())


@pytest.mark.parametrize("name", sorted(exported()))
def test_what_the_engine_gives_out_is_described(name):
    assert f"`{name}`" in text("DEVELOPERS.md")


@pytest.mark.parametrize("name", sorted(targets()))
def test_every_command_is_described(name):
    assert f"`make {name}`" in text("DEVELOPERS.md")


def test_every_phony_target_is_one_and_help_comes_first():
    lines = text("Makefile").splitlines()
    phony = next(line for line in lines if line.startswith(".PHONY: "))
    assert set(phony.split()[1:]) == targets()
    assert ".DEFAULT_GOAL := help" in lines


def test_every_setting_from_outside_is_described():
    named = set(
        re.findall(r'env(?:\.\w+)?\(\s*"([A-Z_]+)"', text("builds/settings.py"))
    )
    assert "SECRET_KEY" in named
    table = set(re.findall(r"^\| `([A-Z_]+)` \|", text("README.md"), re.M))
    assert table == named


def test_every_dependency_says_why():
    names = re.findall(r"^([\w-]+)(?:\[\w+\])?==", text("requirements.txt"), re.M)
    assert len(names) > 10
    section = text("DEVELOPERS.md").split("## What we build on")[1].split("\n## ")[0]
    for name in names:
        assert re.search(rf"\b{name}\b", section), f"Why do we need {name}?"


@pytest.mark.parametrize("name", ["requirements.txt", "tests/requirements.txt"])
def test_every_version_is_pinned(name):
    wanted = [line for line in text(name).splitlines() if line[:1] not in ("", "#")]
    loose = [line for line in wanted if "==" not in line and not line.startswith("-r")]
    assert loose == []


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_place_it_names_is_there(name):
    for place in PLACE.findall(text(name)):
        beside = (ROOT / place, (ROOT / name).parent / place)
        assert any(path.exists() for path in beside), place


def test_every_room_is_in_the_list():
    for folder in (ROOT / "builds").iterdir():
        if folder.is_dir() and folder.name not in ("__pycache__", "migrations"):
            assert f"`builds/{folder.name}/`" in text("DEVELOPERS.md")


@pytest.mark.parametrize("name", ["builds/DECISIONS.md", "scheduling/DECISIONS.md"])
def test_every_decision_names_its_cost(name):
    decisions = text(name).split("\n## ")[1:]
    assert decisions
    for number, decision in enumerate(decisions, start=1):
        title = decision.splitlines()[0]
        assert title.startswith(f"{number}. ")
        for head in ("Context", "Decision", "Because", "Cost"):
            assert f"**{head}.**" in decision, f"{title}: {head}?"


def test_no_file_is_long_without_a_reason():
    long = {
        str(path.relative_to(ROOT))
        for path in code()
        if len(path.read_text().splitlines()) > LONGEST
    }
    assert long <= set(LONG)


def test_the_engine_loads_no_django():
    asked = "import scheduling, sys; print('django' in sys.modules)"
    assert run("-c", asked).stdout == "False\n"


def test_the_plan_in_the_readme_gets_the_answer_it_says(tmp_path):
    plan, *others = re.findall(r"```json\n(.*?)```", text("README.md"), re.S)
    assert not others
    path = tmp_path / "plan.json"
    path.write_text(plan)
    done = run("manage.py", "readiness", str(path), "--json", "--schedules", "1")
    assert done.returncode == 0, done.stderr
    answer = json.loads(done.stdout)
    said = re.search(r'`"critical_path": (\[.*?\])`, (\d+) hours', text("README.md"))
    assert said
    assert answer["critical_path"] == json.loads(said[1])
    assert answer["duration_hours"] == float(said[2])
    odds = re.search(r'`"probability": ([\d.]+)`', text("README.md"))
    assert odds
    level = answer["shows"]["summer"]["entries"]["coupe"]["levels"]["complete"]
    # Two standard errors of 10,000 draws are below 1 in 100.
    assert level["probability"] == pytest.approx(float(odds[1]), abs=0.02)
