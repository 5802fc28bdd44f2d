"""Where in a plan something is, and how a value is shown, in a fault's words.

    jobs[3] "tank-weld".estimate.low
    calendars "shop".open["2027-05-22"][0]

The id follows the list's number, so that a person and a program both find it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple, Protocol, TypeVar

LONGEST_SHOWN = 60
WHOLE_FILE = "plan file"
PLAIN_KEY = re.compile(r"[a-z_]{1,40}")

Path = Sequence[str | int]


def plain(text: str) -> str:
    """Return text cut to 60 characters, with unprintable ones escaped.

    Notes
    -----
    Unprintable is what Unicode calls so: control characters, marks that turn the
    reading direction round, halves of characters, line separators.
    """
    cut = text[: LONGEST_SHOWN + 1]
    safe = "".join(one if one.isprintable() else _escaped(one) for one in cut)
    if len(safe) > LONGEST_SHOWN:
        return safe[: LONGEST_SHOWN - 1] + "…"
    return safe


def _escaped(character: str) -> str:
    return character.encode("unicode_escape", "surrogatepass").decode("ascii")


def quoted(text: str) -> str:
    """Return text as `plain`, between straight quotes."""
    return f'"{plain(text)}"'


def shown(value: object) -> str:
    """Return a value from a plan file as a fault shows it."""
    if isinstance(value, str):
        return quoted(value)
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int | float):
        return plain(f"{value:g}" if isinstance(value, float) else _digits(value))
    return "a group of keys" if isinstance(value, Mapping) else "a list"


def _digits(value: int) -> str:
    # Python refuses to write out integers of thousands of digits.
    return str(value) if value.bit_length() < 400 else "a number too long to show"


class Spot(NamedTuple):
    """The place of one record of a plan, put into words only when asked."""

    group: str
    number: int
    name: str

    def at(self, rest: str = "") -> str:
        """Return the place, or one inside it: ``jobs[3] "tank-weld".sent``."""
        number = "" if self.group == "calendars" else f"[{self.number}]"
        return f"{self.group}{number} {quoted(self.name)}{rest}"


class _HasId(Protocol):
    @property
    def id(self) -> str: ...


Named = TypeVar("Named", bound=_HasId)


def spots(group: str, records: Sequence[Named]) -> Iterator[tuple[Spot, Named]]:
    """Yield every record of a list with its place."""
    for number, record in enumerate(records):
        yield Spot(group, number, record.id), record


def place_in(document: object, path: Path) -> str:
    """Return a path into a plan document as words.

    Parameters
    ----------
    document : object
        The document as read from JSON; ids are looked up in it.
    path : sequence of str and int
        Keys and list numbers from the top.
    """
    words = ""
    here: object = document
    for depth, step in enumerate(path):
        here = _below(here, step)
        if depth == 1 and path[0] == "calendars":
            words += f" {quoted(str(step))}"
        else:
            words += _step(step) + (_own_id(here) if depth == 1 else "")
    return words.lstrip(".") or WHOLE_FILE


def _below(here: object, step: str | int) -> object:
    if isinstance(here, dict) and isinstance(step, str):
        return here.get(step)
    if isinstance(here, list) and isinstance(step, int) and step < len(here):
        return here[step]
    return None


def _own_id(here: object) -> str:
    own = here.get("id") if isinstance(here, dict) else None
    return f" {quoted(own)}" if isinstance(own, str) else ""


def _step(step: str | int) -> str:
    if isinstance(step, int):
        return f"[{step}]"
    return f".{step}" if PLAIN_KEY.fullmatch(step) else f"[{quoted(step)}]"


def listed(words: Iterable[str], most: int = 8) -> str:
    """Return ids in a row, the first few and how many more."""
    every = list(words)
    row = ", ".join(quoted(one) for one in every[:most])
    return f"{row} and {len(every) - most} more" if len(every) > most else row
