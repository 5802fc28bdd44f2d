"""What the tests of the records' pages ask again and again."""

from __future__ import annotations

from html import unescape


def words_of(response) -> str:
    return unescape(response.content.decode())


def assert_refused_on_the_page(response, *words: str) -> None:
    """422, the title says so, the words stand at the top and by the field."""
    page = words_of(response)
    assert response.status_code == 422, "Is a bad form answered with 422?"
    assert "<title>Problem: " in page
    assert "Nothing is saved yet" in page
    for each in words:
        assert each in page
