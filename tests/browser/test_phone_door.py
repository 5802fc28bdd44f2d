"""A technician’s phone is paired by a square and opens with digits.

Chromium sends what a real phone sends with a form, the origin among it, which no test
without a browser does.
"""

from __future__ import annotations

import re

import pytest

from tests.browser.conftest import PHONE
from tests.browser.test_pages import look_on

pytestmark = pytest.mark.browser

REFUSED = ("422 (Unprocessable",)
JUDGED = ("Content Security Policy", "inline style")  # what the judge itself does


def give_digits(page, digits: str, act: str) -> None:
    page.get_by_label("Your digits").fill(digits)
    page.get_by_role("button", name=act).click()
    page.wait_for_load_state()


@pytest.fixture
def invitation(visit):
    """The address in the square, and Imogen, who ends every phone afterwards."""
    lead = visit("lead")
    lead.expected = JUDGED
    lead.open("/phones/")
    lead.page.get_by_label("Whose phone").select_option(label="Rafe Tindlock")
    lead.page.get_by_role("button", name="Show the square").click()
    lead.page.get_by_role("heading", name="Scan this").wait_for()
    assert look_on(lead, "the square") == []
    found = re.search(r"/pair/[\w-]{43}/", lead.page.content())
    assert found
    yield lead, found[0]
    lead.open("/phones/")
    while lead.page.get_by_role("button", name="End it").count():
        lead.page.get_by_role("button", name="End it").first.click()
        lead.page.wait_for_load_state()


def test_it_is_paired_and_opens_with_its_digits_and_not_with_others(visit, invitation):
    lead, where = invitation
    phone = visit(width=PHONE)
    phone.expected = (*REFUSED, *JUDGED)
    page = phone.page
    phone.open(where)
    assert look_on(phone, "choose digits") == []
    give_digits(page, "1111", "Pair this phone")
    page.get_by_text("neither all the same nor in a row").wait_for()
    assert look_on(phone, "plain digits") == []
    give_digits(page, "7294", "Pair this phone")
    page.wait_for_url("**/bench/")

    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/")
    assert look_on(phone, "the door of a paired phone") == []
    page.get_by_role("link", name="With the digits of this phone").click()
    give_digits(page, "9999", "Open")
    page.get_by_text("That is not it.").first.wait_for()
    assert look_on(phone, "wrong digits") == []
    give_digits(page, "7294", "Open")
    page.wait_for_url("**/bench/")

    lead.open("/phones/")
    assert look_on(lead, "a paired phone") == []
