"""Which fields are sent to which address: read off the pages themselves."""

from __future__ import annotations

from collections import defaultdict
from html.parser import HTMLParser
from urllib.parse import urlsplit

FIELDS = ("input", "select", "textarea", "button")


class Forms(HTMLParser):
    """Collects `{address: names}` of every form on a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.page = page
        self.found: dict[str, set[str]] = defaultdict(set)
        self._action = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag == "form":
            self._action = urlsplit(told.get("action") or self.page).path
            self.found[self._action].update()
        elif tag in FIELDS and told.get("name") and self._action:
            self.found[self._action].add(str(told["name"]))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._action = ""


def fields_on(page: str, html: str) -> dict[str, set[str]]:
    forms = Forms(page)
    forms.feed(html)
    return forms.found
