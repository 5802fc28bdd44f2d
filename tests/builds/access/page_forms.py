"""Which fields are sent to which address, and what stands in them: read off pages."""

from __future__ import annotations

from collections import defaultdict
from html.parser import HTMLParser
from urllib.parse import urlsplit

TICKED = ("checkbox", "radio")
Fields = dict[str, dict[str, str | None]]


class Forms(HTMLParser):
    """Collects `{address: {name: value}}` of every form on a page.

    A box that is not ticked has no value: a browser does not send it.
    """

    def __init__(self, page: str) -> None:
        super().__init__()
        self.page = page
        self.found: Fields = defaultdict(dict)
        self._action = self._name = ""
        self._words: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._action = urlsplit(told.get("action") or self.page).path
            self.found[self._action].update()
        elif not self._action:
            return
        elif tag == "option":
            self._option(told, chosen="selected" in dict(attrs))
        elif told.get("name"):
            self._field(tag, told, chosen="checked" in dict(attrs))

    def _field(self, tag: str, told: dict[str, str], *, chosen: bool) -> None:
        self._name = told["name"]
        values = self.found[self._action]
        unticked = told.get("type") in TICKED and not chosen
        values.setdefault(self._name, None if unticked else "")
        if tag == "textarea":
            self._words = []
        elif not unticked:
            values[self._name] = values[self._name] or told.get("value", "")

    def _option(self, told: dict[str, str], *, chosen: bool) -> None:
        values = self.found[self._action]
        if chosen or not values.get(self._name):
            values[self._name] = told.get("value", "")

    def handle_data(self, data: str) -> None:
        if self._words is not None:
            self._words.append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._action = ""
        elif tag == "textarea" and self._words is not None:
            words = "".join(self._words).strip()
            if self._action:
                self.found[self._action][self._name] = words
            self._words = None


def fields_on(page: str, html: str) -> Fields:
    forms = Forms(page)
    forms.feed(html)
    return forms.found
