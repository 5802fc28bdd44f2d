"""The cautions a competent person would expect beside each row of the job table.

The expectations are written by hand from common practice (no source); the substance
of each caution names its own source.
"""

from __future__ import annotations

import re

import pytest

from builds.cautions import PLAN_CAUTIONS, STANDING_NOTE, cautions_for
from builds.cautions.body_rules import BODY_RULES
from builds.cautions.mechanical_rules import MECHANICAL_RULES
from builds.demo.plan import demo_plan
from builds.demo.table import job_table

EXPECTED = {
    "Welding": "C04 C05 C06 C07 C08 D01 D11",
    "Fuel tanks and drums": "B04 D05 J02",
    "Two-pack paint": "C10 F02 F04",
    "Chemical strip and plating": "C01 E04 E05 E07 E08 E10 E11",
    "Old paint and body lead": "C01 C02 C07 C08 F01",
    "Dust, solvents, vibration": "C05 C06 C07 C08 E12 F01 M01",
    "Jacking and lifting": "B05 B07 B08 D02 D04 D12 G03 G04 H06 H07 H09 J01 J02 J04 "
    "K12 L03 L04 L07",
    "Petrol": "B04 J01 J02 L01 L02 L03",
    "Brakes, steering, first drive": "B07 D02 D03 D07 G01 G02 J01 J04 K10 L05 L06 L07 "
    "L08 L09 L11",
    "Batteries and live wiring": "B04 I05 I06 L01 L02",
    "Airbags and pretensioners": "B04",
    "Air-conditioning gas": "B04 J05",
    "Old brake, clutch and gasket dust": "B05 B07 H06",
    "Springs under load": "B07 D02 G03 L04",
    "Exhaust gas indoors": "A05 L02 L03 L10 L11",
    "Plated high-tensile bolts": "E06 E07 E08 G01 G02 G03 K10",
    "Tyres and split rims": "G04",
}
NONE_NEEDED = ("A01", "A02", "A03", "A04", "B09", "B10", "C03", "D13", "E18", "E19",
               "E22", "I02", "K08", "M03", "M04")  # fmt: skip
ROWS = {row.code: row for row in job_table()}
EVERY_CAUTION = [rule.caution for rule in (*BODY_RULES, *MECHANICAL_RULES)]


def names(title, kind="bench", trade=None, note=""):
    found = cautions_for(title, kind, trade, "Commissioning", note, "body")
    return {caution.name for caution in found}


def for_row(code):
    row = ROWS[code]
    found = cautions_for(
        row.title, row.kind, row.trade or None, row.phase, row.note, row.area
    )
    return {caution.name for caution in found}


@pytest.mark.parametrize("name", EXPECTED)
def test_a_caution_stands_beside_every_row_that_needs_it(name):
    missing = [code for code in EXPECTED[name].split() if name not in for_row(code)]
    assert missing == []


@pytest.mark.parametrize("code", NONE_NEEDED)
def test_desk_work_and_waiting_carry_none(code):
    assert for_row(code) == set()


def test_cautions_are_not_scattered_everywhere():
    for name, codes in EXPECTED.items():
        found = {code for code in ROWS if name in for_row(code)}
        assert len(found) <= len(codes.split()) + 4, (name, found)


def test_the_demo_tank_carries_tank_and_aluminium_cautions():
    job = next(job for job in demo_plan()["jobs"] if job["id"] == "q114-x03")
    found = names(job["title"], job["kind"], job["trade"], job["note"])
    assert {"Welding", "Welding aluminium", "Fuel tanks and drums"} <= found


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Weld galvanised bracket to the chassis", "Galvanised or zinc-plated steel"),
        ("High-voltage battery box fitted", "High voltage"),
        ("Airbag module out", "Airbags and pretensioners"),
        ("Front coil springs changed", "Springs under load"),
        ("Refrigerant recovered", "Air-conditioning gas"),
        ("Old underseal scraped off", "Old brake, clutch and gasket dust"),
        ("Split rims inflated", "Tyres and split rims"),
        ("Petrol drained from the lines", "Petrol"),
    ],
)
def test_jobs_beyond_the_table_are_known_by_their_words(title, name):
    assert name in names(title)


def test_structural_work_is_taken_to_be_welding_whatever_its_title():
    assert "Welding" in names("Nearside outrigger", trade="structural")
    assert "Welding" not in names("Nearside outrigger", trade="panel")


def test_a_word_inside_another_word_does_not_count():
    assert names("Tankard shelf dusted") == set()
    assert "Tyres and split rims" not in names("Satyre badge cleaned")


def test_the_standing_note_defers_and_no_caution_claims_anything():
    assert "local codes and law" in STANDING_NOTE
    assert "licensed people" in STANDING_NOTE
    claim = re.compile(r"\b(safe|safely|legal|legally|tested)\b", re.I)
    for caution in (*EVERY_CAUTION, *PLAN_CAUTIONS):
        assert not claim.search(caution.words), caution.name
        assert caution.source
        assert len(caution.words) <= 260


def test_each_caution_has_a_name_of_its_own_and_is_expected_somewhere():
    every = [caution.name for caution in EVERY_CAUTION]
    assert len(set(every)) == len(every)
    beyond = {"Galvanised or zinc-plated steel", "Welding aluminium", "High voltage"}
    assert set(every) == set(EXPECTED) | beyond
