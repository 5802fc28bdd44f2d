"""The colours can be told apart, read, and do without."""

import itertools
import re
from pathlib import Path

import pytest

from tests.repo import colour

TOKENS = Path("builds/static/builds/css/tokens.css").read_text()
THEMES = ("day", "night")
MEANINGS = ("ink", "soft", "petrol", "oxide", "brass")


def raw(name: str, theme: str) -> str:
    found = re.search(rf"--raw-{name}-{theme}: (#[0-9a-f]{{6}});", TOKENS)
    assert found, (name, theme)
    return found[1]


def test_our_sums_give_the_published_figures():
    # WCAG 2.2: black on white is 21:1. Okabe and Ito's blue #0072B2 on white is 5.2:1
    # and its vermilion #D55E00 3.9:1 by any public contrast checker (from memory).
    assert colour.contrast("#000000", "#ffffff") == pytest.approx(21)
    assert colour.contrast("#0072b2", "#ffffff") == pytest.approx(5.2, abs=0.05)
    assert colour.contrast("#d55e00", "#ffffff") == pytest.approx(3.9, abs=0.05)
    # CIELAB of sRGB red under D65 is 53.24, 80.09, 67.20 (Lindbloom's calculator,
    # from memory); white is 100, 0, 0 by definition.
    red = colour.lab(colour.linear("#ff0000"))
    assert red == pytest.approx((53.24, 80.09, 67.20), abs=0.05)
    white = colour.lab(colour.linear("#ffffff"))
    assert white == pytest.approx((100, 0, 0), abs=0.02)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("vision", colour.VISIONS)
def test_meanings_are_told_apart(theme, vision):
    near = {
        (one, other): colour.distance(raw(one, theme), raw(other, theme), vision)
        for one, other in itertools.combinations(MEANINGS, 2)
    }
    assert min(near.values()) >= 15, near


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("text", MEANINGS)
def test_words_are_read_on_paper(theme, text):
    # WCAG 2.2, 1.4.3: 4.5:1 for text.
    assert colour.contrast(raw(text, theme), raw("paper", theme)) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("text", ["ink", "soft", "oxide"])
def test_words_are_read_on_the_wash(theme, text):
    # What an act under the pointer and a closed day of the run-in are laid on.
    assert colour.contrast(raw(text, theme), raw("wash", theme)) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
def test_bench_pages_are_read_in_glare(theme):
    # WCAG 2.2, 1.4.6: 7:1, the enhanced level; those pages use ink only.
    assert colour.contrast(raw("ink", theme), raw("paper", theme)) >= 7


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("fill", ["bench", "petrol"])
def test_words_inside_a_bar_are_read(theme, fill):
    assert colour.contrast(raw("paper", theme), raw(fill, theme)) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("drawn", ["edge", "bench", "petrol", "oxide", "brass"])
def test_what_is_drawn_is_seen(theme, drawn):
    # WCAG 2.2, 1.4.11: 3:1 for graphics and the edges of controls.
    assert colour.contrast(raw(drawn, theme), raw("paper", theme)) >= 3


@pytest.mark.parametrize("theme", THEMES)
def test_the_steps_of_a_smear_are_seen_against_each_other(theme):
    # Told apart by lightness alone, so that print and every eye keep them.
    wide, mid, dark = (raw(n, theme) for n in ("petrol-wide", "petrol-mid", "petrol"))
    assert colour.contrast(wide, mid) >= 1.5
    assert colour.contrast(mid, dark) >= 1.5
