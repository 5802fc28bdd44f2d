"""From SQLite to PostgreSQL and back, by a copy: the same rows, the same plan."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builds.upkeep.locked import new_key

pytestmark = pytest.mark.faults
LEFT_OUT = ("contenttypes", "auth.permission", "sessions", "builds.lifesign")
DUMP = ("dumpdata", *[word for one in LEFT_OUT for word in ("-e", one)])


@pytest.fixture
def whole(commands, tmp_path):
    """Return a way to give rows, plan and the copy of a database."""
    key = new_key()

    def whole(address: str, name: str, copy: Path | None = None):
        folder = tmp_path / name
        told = {
            "DATABASE_URL": address,
            "BACKUP_KEY": key,
            "BACKUP_FOLDER": str(folder),
        }
        rows, plan = tmp_path / "rows.json", tmp_path / "plan.json"
        first = [("restore", str(copy))] if copy else []
        dump = (*DUMP, "--natural-foreign", "-o", str(rows))
        commands(*first, dump, ("export_plan", str(plan)), ("backup",), **told)
        (made,) = folder.iterdir()
        return json.loads(rows.read_text()), plan.read_text(), made

    return whole


def test_the_rows_and_the_plan_are_the_same_there_and_back_again(
    database, postgres, whole, tmp_path
):
    rows, plan, copy = whole(f"sqlite:///{database}", "first")
    there = whole(postgres.create("across"), "there", copy)
    back = whole(f"sqlite:///{tmp_path / 'back.sqlite3'}", "back", there[2])
    assert there[0] == rows
    assert there[1] == plan
    assert back[0] == rows
    assert back[1] == plan
    assert len(rows) > 500


def test_the_plan_file_alone_carries_the_plan_there_and_back(
    database, postgres, commands, tmp_path
):
    first = f"sqlite:///{database}"
    there = postgres.create("by_plan")
    back = f"sqlite:///{tmp_path / 'by-plan.sqlite3'}"
    file, again = str(tmp_path / "plan.json"), tmp_path / "again.json"
    commands(("export_plan", file), DATABASE_URL=first)
    fill = (("migrate",), ("import_plan", file, "--stop-clock"))
    for address in (there, back):
        commands(*fill, ("export_plan", str(again)), DATABASE_URL=address)
        assert again.read_text() == Path(file).read_text()
