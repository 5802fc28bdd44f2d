"""One Chromium and one served demo for the whole run, one fresh visitor per test."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from django.conf import settings
from playwright.sync_api import Browser, Page, sync_playwright

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


def _chromium_path() -> str:
    wanted = os.environ.get("CHROMIUM", "/usr/bin/chromium")
    found = shutil.which(wanted)
    if found:
        return found
    words = f"There is no Chromium at {wanted}. Name one in CHROMIUM."
    if os.environ.get("CI") == "true":
        pytest.fail(words)
    pytest.skip(words)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    path = _chromium_path()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(QUIET))
        yield browser
        browser.close()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


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


@pytest.fixture(scope="session")
def site(tmp_path_factory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("demo")
    port = _free_port()
    environment = os.environ | {
        "DATABASE_URL": f"sqlite:///{folder / 'demo.sqlite3'}",
        "DEMO": "1",
        "DEBUG": "0",
        "REDIS_URL": "",
        "FORECAST_SCHEDULES": "2",
        "FORECAST_SAMPLES": "300",
    }
    log = folder / "server.log"
    with log.open("wb") as out:
        server = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.serve", str(port)],
            cwd=settings.BASE_DIR,
            env=environment,
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


def _opened(chromium: Browser, site: str, width: int, **options) -> Visitor:
    viewport = {"width": width, "height": 844 if width < 800 else 768}
    page = chromium.new_context(viewport=viewport, **options).new_page()
    page.set_default_timeout(15_000)
    visitor = Visitor(page, site)
    visitor.listen()
    return visitor


@pytest.fixture
def visit(chromium: Browser, site: str) -> Iterator[Callable[..., Visitor]]:
    """Open the site on a screen of this width; nothing may be wrong at the end."""
    opened: list[Visitor] = []

    def visit(role: str = "", *, width: int = DESK, **options) -> Visitor:
        visitor = _opened(chromium, site, width, **options)
        opened.append(visitor)
        if role:
            visitor.enter(role)
        return visitor

    yield visit
    for visitor in opened:
        visitor.page.context.close()
    assert [words for visitor in opened for words in visitor.wrong] == []


@pytest.fixture(scope="module")
def visitors(chromium: Browser, site: str) -> Iterator[Callable[[str], Visitor]]:
    """Give the one visitor of a role who looks at many pages."""
    by_role: dict[str, Visitor] = {}

    def visitors(role: str) -> Visitor:
        if role not in by_role:
            by_role[role] = _opened(chromium, site, DESK)
            by_role[role].enter(role)
        by_role[role].wrong.clear()
        return by_role[role]

    yield visitors
    for visitor in by_role.values():
        visitor.page.context.close()
