"""The morning sheet goes up on the wall on one sheet of paper."""

import re

import pytest

pytestmark = pytest.mark.browser


def test_five_cars_and_ten_calls_fit_one_a4(visit):
    lead = visit("lead")
    paper = lead.page.pdf(prefer_css_page_size=True)
    # The page tree of a PDF counts its pages: ISO 32000-1, 7.7.3.2, table 29.
    counts = [int(one) for one in re.findall(rb"/Count (\d+)", paper)]
    assert counts == [1]
