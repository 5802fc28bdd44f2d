"""A technician's phone without a connection, and what the demo's database holds."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.visitor import PHONE, Visitor, launch, opened
from tests.builds.faults.site import until

# Asked over and over by `wait_for`, until it holds.
READY = "() => Boolean(navigator.serviceWorker.controller)"
KEPT = """async (wanted) => {
  for (const one of wanted)
    if (!(await caches.match(one, { ignoreVary: true }))) return false;
  return true;
}"""


def wait_for(page: Page, question: str, *given: object) -> None:
    """Wait until the page says yes."""
    until(lambda: page.evaluate(question, *given), lambda: page.content()[:500])


@contextmanager
def browser() -> Iterator[Browser]:
    """Chromium for one module: while it is open, Django refuses its database here."""
    with sync_playwright() as playwright:
        chromium = launch(playwright)
        yield chromium
        chromium.close()


def technician(chromium: Browser, site: str) -> Visitor:
    """Sign in on a phone, and wait until it can do without the connection."""
    visitor = opened(chromium, site, PHONE)
    visitor.expected = ("ERR_INTERNET_DISCONNECTED", "status of 409", "status of 422")
    visitor.enter("technician")
    wait_for(visitor.page, READY)
    return visitor


def keep(page: Page, *paths: str) -> None:
    """Have had these pages open, so that they are kept."""
    for path in paths:
        page.goto(page.url.split("/bench/")[0] + path)
    wait_for(page, KEPT, list(paths))


def box(page: Page) -> str:
    """Give what the page says about what is kept on this phone."""
    shown: str = page.locator("[data-outbox-box]").inner_text()
    return shown


def rows(database: Path, question: str, *values: object) -> list[tuple]:
    """Ask the demo's database, from outside of its process."""
    with closing(sqlite3.connect(database)) as connection, connection:
        return connection.execute(question, values).fetchall()
