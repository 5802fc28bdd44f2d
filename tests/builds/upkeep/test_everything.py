"""All that is known, out of here in forms that other programs read."""

from __future__ import annotations

import csv
import io
import json
import zipfile

import pytest
from django.core.management import call_command

import scheduling
from builds.models import Event
from builds.planning.exchange import import_plan
from builds.planning.problem import build_plan


def test_plan_record_words_to_customers_and_media_are_in_it(workshop, tmp_path):
    Event.objects.create(verb="tried", subject="=1+1", words="two\nlines")
    call_command("export_all", str(tmp_path / "all.zip"))
    with zipfile.ZipFile(tmp_path / "all.zip") as pack:
        names = {"plan.json", "record.csv", "told.csv", "media/q114/sill.jpg"}
        assert set(pack.namelist()) == names
        plan = scheduling.read_plan(pack.read("plan.json"))
        record = list(csv.DictReader(io.StringIO(pack.read("record.csv").decode())))
        told = pack.read("told.csv").decode()
    assert plan == build_plan()
    assert len(record) == Event.objects.count()
    assert (record[-1]["what"], record[-1]["words"]) == ("'=1+1", "two\nlines")
    assert told.count("\n") > 5


@pytest.mark.parametrize("first", ["=", "+", "-", "@", "\t", "\r"])
def test_asvs_1_2_10_no_word_becomes_a_formula(transactional_db, first, tmp_path):
    Event.objects.create(verb="tried", subject=f"{first}cmd|' /C calc'!A0")
    call_command("export_all", str(tmp_path / "all.zip"))
    with zipfile.ZipFile(tmp_path / "all.zip") as pack:
        (row,) = csv.DictReader(io.StringIO(pack.read("record.csv").decode()))
    assert row["what"].startswith("'")


def test_the_plan_file_in_it_fills_another_workshop(workshop, tmp_path, destroy):
    call_command("export_all", str(tmp_path / "all.zip"))
    destroy()
    call_command("migrate", verbosity=0)
    with zipfile.ZipFile(tmp_path / "all.zip") as pack:
        plan = json.loads(pack.read("plan.json"))
    import_plan(plan, pin_clock=True)
    assert build_plan() == scheduling.read_plan(plan)
