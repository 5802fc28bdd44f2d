"""The owner of a car looks in."""

import pytest

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser


def test_sees_their_own_car_and_no_other(visit):
    owner = visit("customer", width=PHONE)
    page = owner.page
    assert page.url.endswith("/my-car/")
    assert page.get_by_role("heading", level=1).inner_text().startswith("Q-114")
    for heading in ("What we need from you", "What happened this week"):
        assert page.get_by_role("heading", name=heading).is_visible()
    assert page.get_by_text("Between").first.is_visible()
    assert owner.open("/my-car/q114/") == 200
    owner.expected = ("404 (Not Found)", "403 (Forbidden)")
    assert owner.open("/my-car/q109/") == 404
    assert page.get_by_role("heading", name="There is nothing at this address")
    assert owner.open("/bench/") == 403
