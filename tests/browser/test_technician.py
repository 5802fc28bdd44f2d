"""A technician at the bench, on a phone."""

from itertools import pairwise

import pytest

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

TANK = "/bench/q114-x02/"
GLOVE = 64  # px, each of the three daily acts
GAP = 16


def test_starts_a_job_stops_it_and_says_what_is_wrong(visit):
    tom = visit("technician", width=PHONE, has_touch=True)
    tom.expected = ("422 (Unprocessable",)
    page = tom.page
    assert page.url.endswith("/bench/")
    page.get_by_role("link", name="Tank trial fitted").click()
    page.get_by_role("button", name="Start").click()
    page.get_by_text("is under way.").wait_for()

    assert tom.open(TANK + "?ask=stop") == 200
    page.get_by_label("Not done").check()
    page.get_by_label("How much is left").fill("soon")
    page.get_by_role("button", name="Put it down").click()
    page.get_by_role("heading", name="Nothing is saved yet").wait_for()
    page.get_by_label("How much is left").fill("2h30")
    page.get_by_role("button", name="Put it down").click()
    page.get_by_text("is put down with 2 h 30 to go.").wait_for()

    assert tom.open(TANK) == 200
    page.locator("summary", has_text="Something’s wrong").click()
    page.get_by_label("A part is missing").check()
    page.get_by_label("In your own words").fill("Front strap is not in the box")
    page.get_by_role("button", name="Tell the lead").click()
    page.get_by_text("Written down for the lead: a part is missing.").wait_for()

    tom.open(TANK)
    assert page.get_by_text("2 h 30 left").is_visible()
    assert page.get_by_text("Front strap is not in the box").is_visible()


def test_the_acts_are_big_enough_for_gloves(visit):
    """web.dev, accessible tap targets: 48 px at least and 8 px apart for a bare
    finger; the size for gloves is our own rule."""
    page = visit("technician", width=PHONE).page
    boxes = [act.bounding_box() for act in page.locator(".act").all()]
    assert len(boxes) >= 2
    for box in boxes:
        assert box["height"] >= GLOVE
        assert box["width"] >= PHONE - 2 * 24
    tops = sorted((box["y"], box["y"] + box["height"]) for box in boxes)
    for (_, ends), (begins, _) in pairwise(tops):
        assert begins - ends >= GAP


def test_without_a_signal_it_says_so_and_keeps_the_words(visit):
    tom = visit("technician", width=PHONE)
    tom.expected = ("ERR_INTERNET_DISCONNECTED", "htmx:")
    page = tom.page
    tom.open(TANK + "?ask=trouble")
    page.get_by_label("It does not fit").check()
    page.get_by_label("In your own words").fill("Rubs on the left")
    page.context.set_offline(True)
    page.get_by_role("button", name="Tell the lead").click()
    page.get_by_text("Not sent: no signal. Your words are still here.").wait_for()
    assert page.get_by_label("In your own words").input_value() == "Rubs on the left"
    page.context.set_offline(False)
    page.get_by_role("button", name="Tell the lead").click()
    page.get_by_text("Written down for the lead: it does not fit.").wait_for()


def test_an_act_works_without_any_script(visit):
    page = visit("technician", width=PHONE, java_script_enabled=False).page
    page.goto(page.url + "q116-d08/?ask=trouble")
    page.get_by_label("It needs a second person").check()
    page.get_by_role("button", name="Tell the lead").click()
    assert page.get_by_text("it needs a second person").is_visible()
