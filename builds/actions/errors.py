"""Why something could not be done, in words for the page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


class Refused(Exception):
    """It was not done; `words` says why, in whole sentences."""

    def __init__(self, words: str) -> None:
        self.words = words
        super().__init__(words)


class NotReady(Refused):
    """Jobs before it are open; `waits_for` names them."""

    def __init__(self, words: str, waits_for: Sequence[str]) -> None:
        self.waits_for = tuple(waits_for)
        super().__init__(words)


class RingFound(Refused):
    """The link would make jobs wait for each other; `titles` names them in order."""

    def __init__(self, titles: Sequence[str]) -> None:
        self.titles = tuple(titles)
        ring = " → ".join(f"“{title}”" for title in [*titles, titles[0]])
        super().__init__(f"These jobs would wait for each other in a ring: {ring}.")


class Conflict(Refused):
    """Someone else changed it meanwhile; both values of each field, and the version."""

    def __init__(
        self, *, yours: Mapping[str, Any], theirs: Mapping[str, Any], version: int
    ) -> None:
        self.yours = dict(yours)
        self.theirs = dict(theirs)
        self.version = version
        super().__init__("Someone else has changed this since you opened it.")


class PlanRefused(Refused):
    """The plan would be wrong; `faults` lists {where, what, fix}."""

    def __init__(self, faults: Sequence[Mapping[str, str]]) -> None:
        self.faults = tuple(faults)
        super().__init__(
            "\n".join(f"{_sentence(one['what'])} {one['fix']}" for one in faults)
        )


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:].rstrip(".") + "."
