"""A box comes back while there is no connection: counted, photographed, sent later."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from PIL import Image

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser


def picture() -> dict[str, object]:
    out = BytesIO()
    Image.new("RGB", (40, 30), "grey").save(out, "JPEG")
    return {"name": "box.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def test_a_count_that_does_not_agree_is_looked_at_and_signed_with_its_photograph(visit):
    tom = visit("technician", width=PHONE)
    tom.expected = ("ERR_INTERNET_DISCONNECTED", "422 (Unprocessable")
    page = tom.page
    tom.open("/goods-in/")
    page.get_by_role("link", name=re.compile("Count in.*At the chrome")).click()
    page.wait_for_load_state()
    page.context.set_offline(True)
    page.get_by_label("In the box, and good").first.check()
    page.get_by_label("Pieces on their note").fill("1")
    page.get_by_label("What you saw").fill("One corner of the box is wet")
    page.set_input_files("input[type=file]", picture())
    page.get_by_role("button", name="Sign and book in").click()
    page.get_by_text("1 waiting to be sent").wait_for()

    page.context.set_offline(False)
    page.get_by_text("1 for you to decide").wait_for()
    said = page.locator("[data-outbox-box]").inner_text()
    assert "Goods in: " in said
    assert "14 are out and 1 were counted" in said
    page.get_by_role("link", name="Open it again").click()
    page.wait_for_function(
        "() => document.querySelector('input[type=file]').files.length"
    )
    assert page.get_by_label("In the box, and good").first.is_checked()
    assert page.get_by_label("What you saw").input_value().startswith("One corner")
    page.get_by_role("button", name="Sign and book in").click()
    page.get_by_role("heading", name="The count does not agree").wait_for()
    page.set_input_files("input[type=file]", picture())
    page.get_by_role("button", name="Sign and book in").click()
    page.get_by_text("is counted in.").wait_for()
    page.wait_for_function("() => document.querySelector('[data-outbox-box]').hidden")
