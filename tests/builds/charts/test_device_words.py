"""Two words for a device. The long names are real ones (from memory)."""

from __future__ import annotations

import pytest

from builds.charts.device_words import LONGEST, device

MOZILLA, KHTML = "Mozilla/5.0", "AppleWebKit/537.36 (KHTML, like Gecko)"


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (f"{MOZILLA} (X11; Linux x86_64) {KHTML} Chrome/140.0 Safari/537.36",
         "Chrome on Linux"),
        (f"{MOZILLA} (Linux; Android 10; K) {KHTML} Chrome/140.0 Mobile Safari/537.36",
         "Chrome on Android"),
        (f"{MOZILLA} (iPhone; CPU iPhone OS 18_0 like Mac OS X) {KHTML} Version/18.0 "
         "Mobile/15E148 Safari/604.1", "Safari on an iPhone"),
        (f"{MOZILLA} (Macintosh; Intel Mac OS X 10_15_7) {KHTML} Version/18.0 "
         "Safari/605.1.15", "Safari on a Mac"),
        (f"{MOZILLA} (Windows NT 10.0; Win64; x64) {KHTML} Chrome/140.0 Safari/537.36 "
         "Edg/140.0", "Edge on Windows"),
        (f"{MOZILLA} (Windows NT 10.0; rv:140.0) Gecko/20100101 Firefox/140.0",
         "Firefox on Windows"),
    ],
)  # fmt: skip
def test_what_people_call_it(told, words):
    assert device(told) == words


def test_what_nobody_knows_stays_as_it_is_and_short():
    assert device("A phone in the shop") == "A phone in the shop"
    assert device("") == ""
    assert len(device("x" * 500)) == LONGEST + 1
