"""Every page, on a phone and on a desk, by day and by night.

The outside judge is axe-core, by Deque: rules of WCAG 2.0 to 2.2. Reflow at 320 px:
WCAG 2.2, 1.4.10.
"""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from tests.browser.conftest import DESK, PHONE
from tests.builds.access.matrix import MATRIX, arguments

pytestmark = pytest.mark.browser

KEYS = {
    "build_key": "q114",
    "job_key": "q114-x03",
    "person_key": "rafe",
    "vendor_key": "brindle",
    "show_key": "fennimore",
    "calendar_key": "bench",
    "place_key": "ramp",
    "piece_key": "q114-e10-1",
    "consignment_key": "black-batch",
}
ROLES = ("lead", "technician", "customer")
NOT_PAGES = {
    "plan_download",
    "sheet",
    "sheet_download",
    "piece_photo",
    "understood",
    "healthz",
    "readyz",
    "worker",
    "outbox",
}  # files, and parts of a page
BRIEF = {"resultTypes": ["violations"]}  # the judge is quicker if it lists no passes
CONTRAST_ALONE = {"runOnly": ["color-contrast"], **BRIEF}
SCREENS = (
    (PHONE, "light", BRIEF),
    (DESK, "light", BRIEF),
    (PHONE, "dark", CONTRAST_ALONE),
    (DESK, "dark", CONTRAST_ALONE),
)
AXE = Axe()


def pages(role: str) -> list[str]:
    """Give the addresses that show this role a page."""
    return [
        name
        for name, expected in MATRIX.items()
        if expected[role][0] == 200 and name not in NOT_PAGES
    ]


def address(name: str) -> str:
    keys = KEYS | ({"job_key": "q114-e19"} if name == "order" else {})
    return reverse(name, kwargs={one: keys[one] for one in arguments(name)})


def serious(found) -> list[str]:
    return [
        f"{one['id']}: {one['nodes'][0]['html'][:200]}"
        for one in found.response["violations"]
        if one["impact"] in ("serious", "critical")
    ]


def look_at(visitor, path: str) -> list[str]:
    """Load the page once, then turn the screen and the lamp."""
    status = visitor.open(path)
    wrong = [] if status == 200 else [f"{path}: {status}"]
    wrong += look_on(visitor, path)
    visitor.page.goto("about:blank")
    visitor.page.wait_for_timeout(100)  # what the judge caused may be told late
    visitor.wrong.clear()
    return wrong


def look_on(visitor, path: str) -> list[str]:
    """Judge the page as it stands, and leave it open.

    The judge itself styles what it measures, which the page's policy blocks; what the
    console says from then on is about the judge.
    """
    visitor.page.wait_for_timeout(100)
    wrong = list(visitor.wrong)
    before = visitor.page.viewport_size
    for width, theme, options in SCREENS:
        visitor.page.set_viewport_size({"width": width, "height": 844})
        visitor.page.emulate_media(color_scheme=theme)
        found = AXE.run(visitor.page, options=options)
        wrong += [f"{path} {width} {theme} {words}" for words in serious(found)]
    visitor.page.set_viewport_size({"width": 320, "height": 700})
    over = visitor.page.evaluate("document.documentElement.scrollWidth")
    visitor.page.set_viewport_size(before)
    visitor.wrong.clear()
    return wrong + ([f"{path} is {over} px wide at 320"] if over > 320 else [])


@pytest.mark.parametrize(
    ("role", "name"),
    [
        (role, name)
        for role in ("lead", "technician", "customer")
        for name in pages(role)
    ],
)
def test_a_page_is_sound_on_every_screen(visitors, role, name):
    visitor = visitors(role)
    assert look_at(visitor, address(name)) == []


def test_a_sheet_that_was_handed_in_is_sound_on_every_screen(visitors):
    visitor = visitors("lead")
    visitor.open("/spreadsheet/")
    text = b"Task,Hours,Car\nSand,soon,Van\nFill,2h,Van\n"
    file = {"name": "jobs.csv", "mimeType": "text/csv", "buffer": text}
    visitor.page.set_input_files("input[type=file]", file)
    visitor.page.click("text=Look through this file")
    visitor.page.wait_for_url("**/spreadsheet/*/")
    path = visitor.page.url.split("/", 3)[3]
    assert look_at(visitor, f"/{path}") == []


def test_the_sign_in_page_is_sound_on_every_screen(visit):
    assert look_at(visit(), "/sign-in/") == []


def test_the_page_that_is_not_there_is_sound_too(visit):
    visitor = visit("customer")
    visitor.expected = ("404 (Not Found)",)
    assert look_at(visitor, "/nothing/") == ["/nothing/: 404"]
