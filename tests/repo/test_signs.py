"""Each condition has its own sign, told apart without colour."""

import itertools
import re
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright

from builds.charts.conditions import PIECE_SIGNS
from builds.charts.conditions import SIGNS as OF_JOBS
from builds.charts.wording import ODDS_WORDS
from builds.templatetags.show import mark, odds

SIGNS = OF_JOBS | PIECE_SIGNS
SPRITE = Path("templates/_parts/signs.html").read_text()
SIDE = 24
# Paint each symbol black on white and read the grey back, one number a pixel.
READ_GREY = """async ([symbols, side]) => {
  const read = async (body) => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" ${body[0]} color="black"
      width="${side}" height="${side}">
      <style>.knocked-out{stroke:white}</style>${body[1]}</svg>`;
    const image = new Image();
    image.src = "data:image/svg+xml," + encodeURIComponent(svg);
    await image.decode();
    const canvas = Object.assign(document.createElement("canvas"),
      {width: side, height: side});
    const pen = canvas.getContext("2d");
    pen.fillStyle = "white";
    pen.fillRect(0, 0, side, side);
    pen.drawImage(image, 0, 0, side, side);
    const {data} = pen.getImageData(0, 0, side, side);
    return Array.from({length: side * side},
      (_, i) => (data[4 * i] + data[4 * i + 1] + data[4 * i + 2]) / 3);
  };
  return Promise.all(symbols.map(read));
}"""


def symbols() -> dict[str, tuple[str, str]]:
    found = re.findall(
        r'<symbol id="([\w-]+)" (viewBox="[^"]+")>(.*?)</symbol>', SPRITE, re.DOTALL
    )
    return {name: (box, body) for name, box, body in found}


def test_every_condition_and_every_word_of_odds_has_a_sign():
    wanted = {f"sign-{sign}" for sign in SIGNS.values()}
    wanted |= {f"dial-{word.replace(' ', '-')}" for _, word in ODDS_WORDS}
    assert set(symbols()) == wanted


@pytest.mark.parametrize("condition", SIGNS)
@pytest.mark.parametrize("how", ["", "bare"])
def test_a_mark_always_says_its_word(condition, how):
    page = mark(condition, how)
    assert f">{condition}</span>" in page
    assert f'href="#sign-{SIGNS[condition]}"' in page


def test_a_condition_nobody_knows_is_an_error():
    with pytest.raises(KeyError):
        mark("nearly done")


def test_odds_say_word_and_hundredths():
    page = " ".join(odds(0.74).split())
    assert "likely" in page
    assert "74 in 100" in page
    assert "dial-likely" in page
    assert "not worked out" in odds(None)


def read_grey(drawn: dict[str, object]) -> list[list[int]]:
    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page()
        greys = page.evaluate(READ_GREY, [list(drawn.values()), SIDE])
        browser.close()
    return greys


@pytest.mark.browser
def test_signs_are_told_apart_in_grey():
    drawn = symbols()
    # A thread of its own: the browser tests keep a driver running in this one.
    with ThreadPoolExecutor(1) as pool:
        greys = pool.submit(read_grey, drawn).result()
    shades = dict(zip(drawn, greys, strict=True))
    for one, other in itertools.combinations(shades, 2):
        if one.split("-")[0] != other.split("-")[0]:
            continue  # a condition never stands where odds stand
        pairs = zip(shades[one], shades[other], strict=True)
        differing = sum(abs(a - b) > 96 for a, b in pairs)
        # 5 of 100 points: about the area of a full stop is too little to be seen
        assert differing >= SIDE * SIDE * 0.05, (one, other, differing)
