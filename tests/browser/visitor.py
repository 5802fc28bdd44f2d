"""Somebody who looks at the demo in Chromium, and the demo that is served to them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from django.conf import settings
from playwright.sync_api import Browser, Page, Playwright

from tests.builds.faults.site import free_port

QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
)
PHONE, DESK = 390, 1366
SECONDS_TO_OPEN = 90


@dataclass
class Visitor:
    """Somebody with the site open; `wrong` collects what the console complained of."""

    page: Page
    site: str
    wrong: list[str] = field(default_factory=list)
    expected: tuple[str, ...] = ()

    def enter(self, role: str) -> None:
        self.page.goto(f"{self.site}/sign-in/")
        with self.page.expect_navigation():  # a page on its way cannot be printed
            self.page.click(f"button[value={role}]")

    def open(self, path: str) -> int:
        found = self.page.goto(self.site + path)
        assert found is not None
        return found.status

    def listen(self) -> None:
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on("console", self._heard)

    def _heard(self, message) -> None:
        if message.type not in ("error", "warning"):
            return
        if not any(words in message.text for words in self.expected):
            self.wrong.append(message.text)


def launch(playwright: Playwright) -> Browser:
    """Start Chromium, or say why the test cannot run."""
    wanted = os.environ.get("CHROMIUM", "/usr/bin/chromium")
    path = shutil.which(wanted)
    if path is None:
        words = f"There is no Chromium at {wanted}. Name one in CHROMIUM."
        if os.environ.get("CI") == "true":
            pytest.fail(words)
        pytest.skip(words)
    return playwright.chromium.launch(executable_path=path, args=list(QUIET))


def opened(chromium: Browser, site: str, width: int, **options) -> Visitor:
    """Give a fresh visitor on a screen of this width."""
    viewport = {"width": width, "height": 844 if width < 800 else 768}
    page = chromium.new_context(viewport=viewport, **options).new_page()
    page.set_default_timeout(15_000)
    visitor = Visitor(page, site)
    visitor.listen()
    return visitor


@contextmanager
def serve_demo(
    folder: Path, *, root: Path = settings.BASE_DIR, port: int = 0, **more: str
) -> Iterator[str]:
    """Serve the demo in `folder` with the program in `root`; give its address."""
    port = port or free_port()
    environment = os.environ | {
        "DATABASE_URL": f"sqlite:///{folder / 'demo.sqlite3'}",
        "DEMO": "1",
        "DEBUG": "0",
        "REDIS_URL": "",
        "FORECAST_SCHEDULES": "2",
        "FORECAST_SAMPLES": "300",
    }
    log = folder / "server.log"
    with log.open("ab") as out:
        server = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.serve", str(port)],
            cwd=root,
            env=environment | more,
            stdout=out,
            stderr=subprocess.STDOUT,
        )
        try:
            address = f"http://127.0.0.1:{port}"
            _wait_for(address, server, log)
            yield address
        finally:
            server.terminate()
            server.wait(timeout=10)


def _wait_for(address: str, server: subprocess.Popen[bytes], log: Path) -> None:
    ends = time.monotonic() + SECONDS_TO_OPEN
    while time.monotonic() < ends and server.poll() is None:
        try:
            urllib.request.urlopen(f"{address}/sign-in/", timeout=2)
        except OSError:
            time.sleep(0.3)
        else:
            return
    pytest.fail(f"The demo did not open: {log.read_text()[-2000:]}")
