"""One Chromium and one served demo for the whole run, one fresh visitor per test."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

from tests.browser.visitor import (
    DESK,
    PHONE,
    Visitor,
    launch,
    opened,
    serve_demo,
)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = launch(playwright)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def site(tmp_path_factory) -> Iterator[str]:
    with serve_demo(tmp_path_factory.mktemp("demo")) as address:
        yield address


@pytest.fixture
def visit(chromium: Browser, site: str) -> Iterator[Callable[..., Visitor]]:
    """Open the site on a screen of this width; nothing may be wrong at the end."""
    everybody: list[Visitor] = []

    def visit(role: str = "", *, width: int = DESK, **options) -> Visitor:
        visitor = opened(chromium, site, width, **options)
        everybody.append(visitor)
        if role:
            visitor.enter(role)
        return visitor

    yield visit
    for visitor in everybody:
        visitor.page.context.close()
    assert [words for visitor in everybody for words in visitor.wrong] == []


@pytest.fixture(scope="module")
def visitors(chromium: Browser, site: str) -> Iterator[Callable[[str], Visitor]]:
    """Give the one visitor of a role who looks at many pages."""
    by_role: dict[str, Visitor] = {}

    def visitors(role: str) -> Visitor:
        if role not in by_role:
            by_role[role] = opened(chromium, site, DESK)
            by_role[role].enter(role)
        by_role[role].wrong.clear()
        return by_role[role]

    yield visitors
    for visitor in by_role.values():
        visitor.page.context.close()


__all__ = ["DESK", "PHONE"]
