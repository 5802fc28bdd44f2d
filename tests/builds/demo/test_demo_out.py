"""What is out of the demo workshop on its day: eight things, counted by hand."""

from __future__ import annotations

import pytest

from builds.demo.plan import demo_plan
from builds.planning.exchange import import_plan
from builds.selectors.out_and_back import out_page

# Thing and pieces, as told of the workshop on the morning of 11 January 2027. The shell
# is at the painter's; nobody noted the day it left.
OUT = {
    "At paint: epoxy, seam seal, high-build, block": None,
    "Badges and scripts restored or made": 3,
    "Gearbox adaptor made": 1,
    "At the chrome plater": 14,
    "Engine built and run in on the builder's stand": 1,
    "Hood frame at the chrome plater": 22,
    "Loom made": 3,
    "At the anodiser": 9,
}
PROMISED = {"Gearbox adaptor made": "2027-01-15", "At the chrome plater": "2027-01-29"}


@pytest.mark.django_db
def test_eight_things_are_out_and_one_count_is_short():
    import_plan(demo_plan(), pin_clock=True)
    page = out_page()
    assert {one.title: one.out for one in page.out} == OUT
    assert {one.title: str(one.promised) for one in page.out if one.promised} == (
        PROMISED
    )
    assert all(one.holder for one in page.out)
    short = {one.title: one.mismatch for one in page.out if one.mismatch}
    assert list(short) == ["Hood frame at the chrome plater"]
    assert "22 went, their note says 21" in next(iter(short.values()))
