"""A technician at the bench, on a phone."""

from contextlib import suppress
from itertools import pairwise

import pytest
from playwright.sync_api import Page
from playwright.sync_api import TimeoutError as TooLong

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser

TANK = "/bench/q114-x02/"
GLOVE = 64  # px, each of the three daily acts
GAP = 16
REPORTS = "**/trouble/"


def cut_off_reports(page: Page) -> None:
    """Let no report through. Before the page is opened: while its kept-pages program
    takes it over, a route that is only then begun misses the next request."""
    page.route(REPORTS, lambda route: route.abort())


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
    boxes = [act.bounding_box() for act in page.locator(".act:visible").all()]
    assert len(boxes) >= 2
    for box in boxes:
        assert box["height"] >= GLOVE
        assert box["width"] >= PHONE - 2 * 24
    tops = sorted((box["y"], box["y"] + box["height"]) for box in boxes)
    for (_, ends), (begins, _) in pairwise(tops):
        assert begins - ends >= GAP


def test_without_a_signal_it_is_kept_and_sent_when_it_is_back(visit):
    tom = visit("technician", width=PHONE)
    tom.expected = ("ERR_INTERNET_DISCONNECTED",)
    page = tom.page
    tom.open(TANK + "?ask=trouble")
    page.get_by_label("It does not fit").check()
    page.get_by_label("In your own words").fill("Rubs on the left")
    page.context.set_offline(True)
    page.get_by_role("button", name="Tell the lead").click()
    page.get_by_text("1 waiting to be sent").wait_for()
    page.get_by_text("No connection. They are sent when it is back.").wait_for()
    page.context.set_offline(False)
    page.get_by_text("All sent").wait_for()
    page.get_by_text("Written down for the lead: it does not fit.").wait_for()
    tom.open(TANK)
    assert page.get_by_text("Rubs on the left").count() == 1
    assert not page.locator("[data-outbox-box]").is_visible()


def test_a_line_that_breaks_in_the_middle_loses_nothing(visit):
    """The browser still believes in its connection; the answer never comes."""
    tom = visit("technician", width=PHONE)
    tom.expected = ("ERR_FAILED", "htmx:")
    page = tom.page
    cut_off_reports(page)
    tom.open(TANK + "?ask=trouble")
    page.get_by_label("A part is wrong").check()
    page.get_by_label("In your own words").fill("Left-hand thread")
    page.get_by_role("button", name="Tell the lead").click()
    page.get_by_text("1 waiting to be sent").wait_for()
    page.unroute(REPORTS)
    with suppress(TooLong):  # it may have gone by itself meanwhile
        page.get_by_role("button", name="Send now").click(timeout=2_000)
    page.get_by_text("All sent").wait_for()
    tom.open(TANK)
    assert page.get_by_text("Left-hand thread").count() == 1


def test_nothing_of_it_stays_after_signing_out(visit):
    tom = visit("technician", width=PHONE)
    page = tom.page
    page.evaluate("navigator.serviceWorker.ready")
    tom.open("/bench/")
    page.wait_for_function("() => caches.match('/bench/', { ignoreVary: true })")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/")
    assert page.evaluate("caches.keys()") == []
    assert page.evaluate("navigator.serviceWorker.getRegistrations()") == []


def test_signing_out_asks_before_it_throws_acts_away(visit):
    tom = visit("technician", width=PHONE)
    tom.expected = ("ERR_INTERNET_DISCONNECTED", "ERR_FAILED", "htmx:")
    page = tom.page
    cut_off_reports(page)
    tom.open(TANK + "?ask=trouble")
    page.get_by_label("It does not fit").check()
    page.get_by_role("button", name="Tell the lead").click()
    page.get_by_text("1 waiting to be sent").wait_for()
    page.get_by_role("button", name="Sign out").click()
    page.get_by_text("Signing out throws these away").wait_for()
    assert "/bench/" in page.url
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/")
    assert not page.locator("[data-outbox-box]").is_visible()


def test_nobody_elses_pages_are_kept(visit):
    """A lead on a phone that a technician had: the program stands there, idle."""
    lena = visit("technician", width=PHONE)
    page = lena.page
    page.evaluate("navigator.serviceWorker.ready")
    page.context.clear_cookies()
    lena.enter("lead")
    for path in ("/cars/", "/bench/", "/hands/", "/goods-in/"):
        page.goto(lena.site + path)
    lena.wrong.clear()  # the bench is not the lead's: 403
    names = page.evaluate("caches.keys()")
    assert [name for name in names if not name.startswith("shell-")] == []


def test_an_act_works_without_any_script(visit):
    page = visit("technician", width=PHONE, java_script_enabled=False).page
    page.goto(page.url + "q116-d08/?ask=trouble")
    page.get_by_label("It needs a second person").check()
    page.get_by_role("button", name="Tell the lead").click()
    assert page.get_by_text("it needs a second person").is_visible()
