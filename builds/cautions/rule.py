"""When a caution applies."""

from __future__ import annotations

from dataclasses import dataclass

from builds.cautions.caution import Caution

OWN_HANDS = frozenset({"bench", "check"})
ANY_WORK = frozenset({"bench", "check", "outside", "stand"})


@dataclass(frozen=True, slots=True)
class Rule:
    """A caution, the kinds of job it is for, and patterns that must all occur."""

    caution: Caution
    patterns: tuple[str, ...]
    kinds: frozenset[str] = OWN_HANDS
