"""A passkey: made by the lead, and then the only thing needed to come in.

Chromium plays the key itself (the WebAuthn part of its developer protocol). A passkey
belongs to a name, so the site is looked at as `localhost`.
"""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

KEY = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}


@pytest.fixture
def lena(visit):
    """A lead at a machine that has a key of its own."""
    visitor = visit()
    visitor.site = visitor.site.replace("127.0.0.1", "localhost")
    line = visitor.page.context.new_cdp_session(visitor.page)
    line.send("WebAuthn.enable")
    line.send("WebAuthn.addVirtualAuthenticator", {"options": KEY})
    visitor.enter("lead")
    yield visitor
    visitor.open("/factors/")
    while visitor.page.get_by_role("link", name="Remove").count():
        visitor.page.get_by_role("link", name="Remove").first.click()
        visitor.page.get_by_role("button", name="Remove it").click()
        visitor.page.wait_for_url("**/factors/")


def add_passkey(visitor, name: str, *, alone: bool) -> None:
    page = visitor.page
    visitor.open("/factors/")
    page.get_by_role("link", name="Add a passkey").click()
    page.get_by_role("textbox", name="Name").fill(name)
    if alone:
        page.get_by_label("It may open the door by itself").check()
    page.get_by_role("button", name="Make the passkey").click()
    page.get_by_text("The passkey is added.").wait_for()


def test_a_passkey_is_made_and_opens_the_door_by_itself(lena):
    page = lena.page
    add_passkey(lena, "Office desk", alone=True)
    lena.open("/factors/")
    assert page.locator(".line__title", has_text="Office desk").is_visible()

    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/")
    page.get_by_role("button", name="With a passkey").click()
    page.wait_for_url("**/morning/")
    assert page.get_by_role("link", name="Morning sheet").is_visible()

    lena.open("/factors/")
    assert "last used" in page.locator("#main").get_by_text("Since").first.inner_text()


def test_it_says_once_more_who_it_is(lena):
    page = lena.page
    add_passkey(lena, "Office desk", alone=True)
    lena.open("/again/passkey/?next=/phones/")
    page.get_by_role("button", name="Use the passkey").click()
    page.wait_for_url(f"{lena.site}/phones/")


def test_without_any_passkey_nothing_opens(visit):
    visitor = visit()
    visitor.site = visitor.site.replace("127.0.0.1", "localhost")
    visitor.expected = ("NotAllowedError",)
    page = visitor.page
    line = page.context.new_cdp_session(page)
    line.send("WebAuthn.enable")
    line.send("WebAuthn.addVirtualAuthenticator", {"options": KEY})
    visitor.open("/sign-in/")
    page.get_by_role("button", name="With a passkey").click()
    page.wait_for_timeout(1000)
    assert page.url.endswith("/sign-in/")
