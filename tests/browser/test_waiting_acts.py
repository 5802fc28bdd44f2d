"""What a technician sees while acts wait on the phone, sound on every screen."""

from __future__ import annotations

import pytest

from tests.browser.conftest import PHONE
from tests.browser.test_pages import look_on
from tests.builds.faults.phone import READY, keep, wait_for

pytestmark = pytest.mark.browser

TANK = "/bench/q114-x02/"
SHELL = "/bench/q118-c04/"  # under way, and his
AWAY = ("ERR_INTERNET_DISCONNECTED", "409 (Conflict)", "422 (Unprocessable")
JUDGED = ("Content Security Policy", "inline style")  # what the judge itself does


def wrong(page, words: str) -> None:
    page.locator("#trouble > summary").click()
    page.get_by_label("It does not fit").check()
    page.locator("#trouble").get_by_label("In your own words").fill(words)
    page.get_by_role("button", name="Tell the lead").click()


@pytest.fixture
def tom(visit):
    """Tom with the pages kept, and no connection; at the end nothing waits."""
    tom = visit("technician", width=PHONE)
    tom.expected = (*AWAY, *JUDGED)
    wait_for(tom.page, READY)
    keep(tom.page, "/bench/", SHELL, TANK)
    tom.page.context.set_offline(True)
    yield tom
    tom.page.context.set_offline(False)


def test_the_card_and_the_list_while_they_wait(tom):
    page = tom.page
    wrong(page, "A strap is missing")
    page.get_by_text("1 waiting to be sent").wait_for()
    page.get_by_text("Show what waits").click()
    assert look_on(tom, "a card with an act that waits") == []
    page.goto(page.url.replace(TANK, "/bench/"))
    page.get_by_text("1 waiting to be sent").wait_for()
    page.get_by_text("Show what waits").click()
    assert look_on(tom, "the list with an act that waits") == []
    page.context.set_offline(False)
    page.get_by_text("All sent").wait_for()


def test_what_is_for_them_to_decide(tom, visit):
    page = tom.page
    lead = visit("lead")
    lead.open(SHELL.replace("bench", "jobs") + "edit/")
    lead.page.get_by_label("Note").fill("Mind the door gaps")
    lead.page.get_by_role("button", name="Save").first.click()
    lead.page.wait_for_load_state()
    page.goto(page.url.replace(TANK, SHELL))
    page.locator("#stop > summary").click()
    page.locator("#stop").get_by_label("Not done").check()
    page.locator("#stop").get_by_label("How much is left").fill("2h")
    page.get_by_role("button", name="Put it down").click()
    page.get_by_text("1 waiting to be sent").wait_for()
    page.context.set_offline(False)
    page.get_by_text("1 for you to decide").wait_for()
    assert look_on(tom, "an act to decide on") == []
    page.get_by_role("button", name="Throw it away").click()
    assert look_on(tom, "an act about to be thrown away") == []
    page.get_by_role("button", name="Really throw it away").click()
    page.locator("[data-drop]").wait_for(state="detached")
