"""Where the words of a bar go, so that they can be read and never lie over another."""

from __future__ import annotations

from dataclasses import dataclass

LETTER = (
    7.2  # width of an average letter at 12 units, taken from the widest of our faces
)
GAP = 6.0
LONGEST = 30
SHORTEST = 6


@dataclass(frozen=True, slots=True)
class Label:
    """Words, the end they hang from, and the paper they take."""

    text: str
    x: float
    anchor: str
    left: float
    right: float


def wide(text: str) -> float:
    """Give the paper a text takes, on the safe side."""
    return len(text) * LETTER


def shorten(text: str, letters: int = LONGEST) -> str:
    """Cut a text at a word, with an ellipsis, if it is longer than that."""
    if len(text) <= letters:
        return text
    cut = text[: max(letters - 1, 1)]
    at_word = cut.rsplit(" ", 1)[0] if " " in cut[letters // 2 :] else cut
    return at_word.rstrip(" ,.-") + "…"


def place(text: str, left: float, right: float, *, edge: float, limit: float) -> Label:
    """Put a text beside what lies from left to right, between edge and limit.

    After it where there is room, else before it, else cut to the larger side.
    """
    text = shorten(text)
    after, before = limit - right - GAP, left - GAP - edge
    if wide(text) <= after:
        return _after(text, right)
    if wide(text) <= before:
        return _before(text, left)
    letters = int(max(after, before) // LETTER)
    if letters < SHORTEST:
        return Label("", right, "start", left, right)
    text = shorten(text, letters)
    return _after(text, right) if after >= before else _before(text, left)


def _after(text: str, right: float) -> Label:
    x = right + GAP
    return Label(text, round(x, 1), "start", x, x + wide(text))


def _before(text: str, left: float) -> Label:
    x = left - GAP
    return Label(text, round(x, 1), "end", x - wide(text), x)
