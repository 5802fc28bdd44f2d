"""Every requirement is kept by a test, or has its reason."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

TABLE = tomllib.loads(Path(__file__).with_name("asvs.toml").read_text())
NAMED = re.compile(r"def test_\w*?asvs((?:_\d+){3})")
WANTED = (*TABLE["level_1"], *TABLE["beyond"])


def shown() -> set[str]:
    root = Path(__file__).parents[2]
    found = set()
    for path in root.rglob("test_*.py"):
        for name in NAMED.findall(path.read_text()):
            found.add(name.strip("_").replace("_", "."))
    return found


TESTED = shown()


@pytest.mark.parametrize("one", WANTED)
def test_it_is_kept_by_a_test_or_has_its_reason(one):
    assert one in TESTED or one in TABLE["reasons"], f"ASVS {one}: who shows it?"


@pytest.mark.parametrize("one", sorted(TABLE["reasons"]))
def test_a_reason_stands_only_where_no_test_does(one):
    assert one not in TESTED, f"ASVS {one} has a test now: take its reason out."
    assert one in WANTED
    assert TABLE["reasons"][one].endswith((".", ")."))


def test_all_seventy_of_level_one_are_there():
    """ASVS 5.0.0 has 70 requirements of level 1 (counted in its own list)."""
    assert len(set(TABLE["level_1"])) == 70


@pytest.mark.parametrize("one", sorted(TESTED))
def test_what_a_test_names_is_in_the_table(one):
    assert one in WANTED
