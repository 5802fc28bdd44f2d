"""A vendor puts in a day by their own link, the lead takes it, and rings another."""

import pytest

from tests.browser.conftest import PHONE
from tests.browser.test_pages import look_at

pytestmark = pytest.mark.browser


def test_a_day_is_put_in_and_taken(visit):
    lead = visit("lead")
    lead.open("/vendors/orrelstane/links/")
    lead.page.get_by_role("button", name="Make the link").click()
    link = lead.page.get_by_label("Send them this").input_value()

    vendor = visit(width=PHONE)
    where = "/v/in/" + link.partition("/v/in/")[2]
    assert look_at(vendor, where) == []
    vendor.open(where)
    assert vendor.page.url.endswith("/v/")
    page = vendor.page
    assert page.get_by_role("heading", level=1).inner_text() == (
        "With Orrelstane Plating now"
    )
    frame = page.get_by_role("region", name="Hood frame at the chrome plater")
    frame.get_by_label("It will be back on").fill("5 feb")
    frame.get_by_label("Your name").fill("Joan")
    frame.get_by_role("button", name="Send it").click()
    assert page.get_by_text("The workshop sees it and will confirm.").is_visible()

    lead.open("/ring/")
    lead.page.get_by_role("button", name="Take it for Hood frame").click()
    assert lead.page.get_by_text("is promised for Fri 5 Feb 2027").is_visible()


def test_a_call_is_logged_from_the_list(visit):
    lead = visit("lead")
    lead.open("/ring/")
    lead.page.get_by_text("Log the call about Badges and scripts").click()
    lead.page.get_by_label("What they said").locator("visible=true").fill("In the kiln")
    lead.page.get_by_label("Back on").locator("visible=true").fill("any day now")
    lead.page.get_by_role("button", name="Take it down").locator("visible=true").click()
    assert lead.page.get_by_text("taken down, with no date").is_visible()
    assert lead.page.get_by_text("“In the kiln”").is_visible()
