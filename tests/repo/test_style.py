"""The rules of the style sheets and of the markup they dress."""

import re
from pathlib import Path

import pytest

CSS = Path("builds/static/builds/css")
SHEETS = sorted(CSS.rglob("*.css"))
TEMPLATES = sorted(Path("templates").rglob("*.html"))
COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
COLOUR = re.compile(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgba?|hsla?|oklch|lch|lab|hwb)\(")


def read(path: Path) -> str:
    return COMMENT.sub("", path.read_text())


def name(path: Path) -> str:
    return str(path)


@pytest.mark.parametrize("path", TEMPLATES, ids=name)
def test_templates_obey_the_strict_policy(path):
    text = path.read_text()
    assert not re.search(r"\sstyle\s*=", text)
    assert not re.search(r"\son[a-z]+\s*=", text)
    assert "hx-on" not in text
    assert "javascript:" not in text
    assert "<style" not in text
    for attributes, content in re.findall(r"<script([^>]*)>(.*?)</script>", text, re.S):
        if 'type="application/json"' in attributes:
            continue  # facts, which no browser runs
        assert "src=" in attributes
        assert not content.strip()


@pytest.mark.parametrize("path", TEMPLATES, ids=name)
def test_templates_name_no_colour(path):
    assert not re.search(r"""(?:fill|stroke|color)=["'](?!none|url|currentColor)""",
                         path.read_text())  # fmt: skip


def test_every_variable_used_is_defined_in_the_tokens():
    defined = set(re.findall(r"(--[\w-]+)\s*:", read(CSS / "tokens.css")))
    used = {v for path in SHEETS for v in re.findall(r"var\((--[\w-]+)", read(path))}
    assert used
    assert used - defined == set()


def test_every_meaning_is_used():
    tokens = read(CSS / "tokens.css")
    used = {v for path in SHEETS for v in re.findall(r"var\((--[\w-]+)", read(path))}
    assert set(re.findall(r"(--[\w-]+)\s*:", tokens)) - used == set()


@pytest.mark.parametrize(
    "path", [p for p in SHEETS if p.name != "tokens.css"], ids=name
)
def test_only_the_tokens_hold_colours_and_raw_values(path):
    assert not COLOUR.search(read(path))
    assert "var(--raw-" not in read(path)
    assert "!important" not in read(path)
    assert not re.search(r"^\s*#[\w-]+[\s,{]", read(path), re.M)


def test_every_sheet_is_in_a_layer():
    app = read(CSS / "app.css")
    first, *imports = [line for line in app.splitlines() if line.strip()]
    layers = re.findall(r"\w+", first.removeprefix("@layer"))
    taken = [
        re.fullmatch(r'@import url\("([\w/.]+)"\) layer\((\w+)\);', line)
        for line in imports
    ]
    assert all(taken), "app.css holds the order of the layers and imports, no rules"
    assert all(one[2] in layers for one in taken)
    # The order of import is the order of power.
    assert [one[2] for one in taken] == sorted(
        (one[2] for one in taken), key=layers.index
    )
    imported = {CSS / one[1] for one in taken}
    assert imported == set(SHEETS) - {CSS / "app.css"}


@pytest.mark.parametrize("path", SHEETS, ids=name)
def test_sheets_stay_small(path):
    assert len(path.read_text().splitlines()) <= 200


def test_braces_close():
    for path in SHEETS:
        assert read(path).count("{") == read(path).count("}"), path
