"""L4 and L7: what the bench page weighs on a phone, and how soon a tap is seen."""

from __future__ import annotations

import os
from typing import Any

from playwright.sync_api import Page, sync_playwright

SLOW = {
    "offline": False,
    "latency": 400,
    "downloadThroughput": 400_000 / 8,
    "uploadThroughput": 400_000 / 8,
}
FLAGS = ("--no-sandbox", "--disable-gpu", "--disable-background-networking")
# From the press of a button to the first change that is painted after it.
TAPPED = """() => new Promise((done) => {
  const form = document.querySelector("main form");
  const button = form.querySelector("button");
  form.addEventListener("submit", (event) => event.preventDefault(), true);
  const began = performance.now();
  new MutationObserver(() =>
    requestAnimationFrame(() => done(performance.now() - began)))
    .observe(document.body, { subtree: true, attributes: true, childList: true });
  button.click();
  setTimeout(() => done(-1), 3000);
})"""


def bench_weight(facts: dict[str, Any]) -> str:
    """Give the lines of the table."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"),
            args=list(FLAGS),
        )
        page = browser.new_page(
            viewport={"width": 390, "height": 844},
            extra_http_headers={
                "X-Forwarded-Proto": "https",
                "Cookie": f"__Host-session={facts['sessions']['technician'][0]}",
            },
        )
        lines = _weigh(page, f"http://127.0.0.1:{facts['port']}/bench/")
        browser.close()
    return "\n".join(lines)


def _weigh(page: Page, address: str) -> list[str]:
    line = page.context.new_cdp_session(page)
    line.send("Network.enable")
    got: list[float] = []
    line.on("Network.loadingFinished", lambda one: got.append(one["encodedDataLength"]))
    line.send("Network.emulateNetworkConditions", SLOW)
    page.goto(address, wait_until="networkidle")
    first = sum(got)
    got.clear()
    page.goto(address, wait_until="networkidle")
    then = sum(got)
    tap = page.evaluate(TAPPED) if page.query_selector("main form button") else -1
    return [
        f"L4 bench page, first load {first / 1000:.1f} kB (wanted 100 at most)",
        f"L4 bench page, afterwards {then / 1000:.1f} kB (wanted 15 at most)",
        f"L7 from a tap to a change on the screen {tap:.0f} ms (wanted 100 at most)",
    ]
