"""The text of a plan file, down to plain JSON values, with every trap refused.

Text that is not UTF-8 or not JSON, keys written twice, numbers that are none,
nesting without end and files beyond any workshop's size stop here.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from scheduling.errors import Fault, PlanError
from scheduling.whereabouts import WHOLE_FILE, Path, place_in, plain, quoted, shown

MOST_BYTES = 20_000_000
MOST_DEEP = 20
MOST_VALUES = 2_000_000
MOST_DIGITS = 30
MOST_BITS = 100
MOST_FAULTS = 200

Steps = tuple[str | int, ...]


def read_document(source: str | bytes | Mapping[str, object]) -> dict[str, Any]:
    """Return the top object of a plan file as plain dicts, lists and values.

    Parameters
    ----------
    source : str, bytes or mapping
        UTF-8 text (a byte order mark is accepted), or what JSON would give.

    Raises
    ------
    PlanError
        If it is no JSON object, or holds what no plan file may hold.
    """
    document = source if isinstance(source, Mapping) else _parsed(_text(source))
    return _plain(document)


def at_most(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the first 200 faults and, where there are more, how many."""
    rest = len(faults) - MOST_FAULTS
    if rest <= 0:
        return tuple(faults)
    more = Fault(
        WHOLE_FILE, f"has these faults and {rest} more", "Put these right first."
    )
    return (*faults[:MOST_FAULTS], more)


def _refuse(what: str, fix: str, where: str = WHOLE_FILE) -> PlanError:
    return PlanError([Fault(where, what, fix)])


def _text(source: str | bytes) -> str:
    if len(source) > MOST_BYTES:
        raise _refuse(
            "is larger than 20 MB", "Take out old builds, or save them as a plan apart."
        )
    if isinstance(source, str):
        return source.removeprefix("\ufeff")
    try:
        return bytes(source).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _refuse(
            f"is not UTF-8 text (byte {error.start + 1} cannot be read)",
            "Save the file as UTF-8.",
        ) from None


def _parsed(text: str) -> object:
    try:
        return json.loads(
            text,
            object_pairs_hook=_Pairs,
            parse_constant=_Odd,
            parse_int=_whole_number,
            parse_float=_number,
        )
    except json.JSONDecodeError as error:
        raise _refuse(
            f"is not JSON from line {error.lineno}, column {error.colno} on",
            "Look there for a missing comma, quote or bracket.",
        ) from None
    except RecursionError:
        raise _too_deep(WHOLE_FILE) from None


def _too_deep(where: str) -> PlanError:
    return _refuse(
        f"is nested more than {MOST_DEEP} levels deep",
        "A plan file never needs that; look for brackets that are not closed.",
        where,
    )


class _Pairs(list[tuple[str, object]]):
    """An object as written, keys that occur twice included."""


class _Odd(str):
    """A number as written that no plan may hold: NaN, Infinity, 1e309, 99...9."""

    __slots__ = ()


def _whole_number(text: str) -> int | _Odd:
    return int(text) if len(text) <= MOST_DIGITS else _Odd(text)


def _number(text: str) -> float | _Odd:
    number = float(text)
    return number if math.isfinite(number) else _Odd(text)


class _Cleaner:
    """Turns what was read into plain dicts and lists, collecting what is wrong."""

    def __init__(self) -> None:
        self.found: list[tuple[Steps, str, str]] = []
        self.values = 0

    def clean(self, top: object) -> object:
        """Return plain values; `found` says what could not be had."""
        try:
            return self._value(top, ())
        except _Outsize as outsize:
            raise outsize.error from None

    def _value(self, value: object, path: Steps) -> object:
        self.values += 1
        if self.values > MOST_VALUES:
            raise _Outsize(
                _refuse("holds more than 2,000,000 values", "Split the plan.")
            )
        if len(path) > MOST_DEEP:
            raise _Outsize(_too_deep(_cut_place(path)))
        if isinstance(value, _Pairs | Mapping):
            return dict(self._object(value, path))
        if isinstance(value, list | tuple):
            return [self._value(one, (*path, n)) for n, one in enumerate(value)]
        return self._single(value, path)

    def _object(
        self, value: _Pairs | Mapping[Any, object], path: Steps
    ) -> Iterator[tuple[str, object]]:
        pairs = value if isinstance(value, _Pairs) else value.items()
        seen: set[str] = set()
        for key, inside in pairs:
            if not isinstance(key, str) or _broken(key):
                self._fault(
                    path,
                    f"has the key {shown(key)}, which is not text",
                    "Rename the key.",
                )
            elif key in seen:
                self._fault(
                    path, f"has the key {quoted(key)} twice", "Keep one of the two."
                )
            else:
                seen.add(key)
                yield key, self._value(inside, (*path, key))

    def _single(self, value: object, path: Steps) -> object:
        if _uncountable(value):
            number = "a number too long to show" if isinstance(value, int) else value
            text = plain(str(number))
            self._fault(
                path,
                f"is {text}, not a number one can count with",
                "Write it in digits.",
            )
        elif isinstance(value, str) and _broken(value):
            self._fault(
                path, f"is {quoted(value)}, with half a character in it", "Retype it."
            )
        elif value is None or isinstance(value, str | int | float):
            return value
        else:
            self._fault(
                path, "is a thing that JSON cannot hold", "Use text, numbers and lists."
            )
        return None

    def _fault(self, path: Steps, what: str, fix: str) -> None:
        self.found.append((path, what, fix))


class _Outsize(Exception):
    """Stops the cleaning of something too deep or too large."""

    def __init__(self, error: PlanError) -> None:
        self.error = error
        super().__init__()


def _cut_place(path: Path) -> str:
    return f"{place_in(None, path[:3])} …"


def _uncountable(value: object) -> bool:
    if isinstance(value, int):
        return value.bit_length() > MOST_BITS
    if isinstance(value, float):
        return not math.isfinite(value)
    return isinstance(value, _Odd)


def _broken(text: str) -> bool:
    """Return whether text holds half of a surrogate pair, which no file can keep."""
    return not text.isascii() and any("\ud800" <= one <= "\udfff" for one in text)


def _plain(document: object) -> dict[str, Any]:
    cleaner = _Cleaner()
    clean, found = cleaner.clean(document), cleaner.found
    if found:
        raise PlanError(
            at_most([Fault(place_in(clean, path), *words) for path, *words in found])
        )
    if not isinstance(clean, dict):
        raise _refuse(
            f"is {shown(clean)}, not a plan",
            'A plan file starts with { and has keys such as "jobs".',
        )
    return clean
