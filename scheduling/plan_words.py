"""A workshop's words for each rule of the plan file's schema that is broken."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from difflib import get_close_matches
from typing import Any

from jsonschema.exceptions import ValidationError

from scheduling.errors import Fault
from scheduling.whereabouts import listed, place_in, quoted, shown

Words = tuple[str, str]

LONGEST_KEY = 40

TYPES = {
    "string": ("text", "Put it between quotes."),
    "integer": ("a whole number", "Write a whole number without quotes."),
    "number": ("a number", "Write a number without quotes."),
    "boolean": ("true or false", "Write true or false without quotes."),
    "object": ("a group of keys", "Write it between { and }."),
    "array": ("a list", "Write it between [ and ], even for one."),
    "null": ("null", "Write null, or leave the key out."),
}
FORMATS = {
    "local-date": ("a day", "Write it as YYYY-MM-DD, for example 2027-06-11."),
    "local-time": (
        "a moment",
        "Write local time as YYYY-MM-DDTHH:MM, for example 2027-06-11T16:00.",
    ),
    "local-date-or-time": (
        "a day or a moment",
        "Write it as YYYY-MM-DD or YYYY-MM-DDTHH:MM.",
    ),
    "date-span": (
        "days from first to last",
        "Write FIRST/LAST, the earlier day first, for example 2027-03-26/2027-03-29.",
    ),
    "opening-hours": (
        "opening hours within one day",
        "Write OPENS-CLOSES, for example 08:00-12:15; 24:00 may close a day.",
    ),
    "holiday-calendar": (
        "a country whose public holidays are known",
        'Write its two letters and the part of it, for example "GB-ENG" or "DE-BY".',
    ),
    "time-zone": (
        "a time zone",
        'Write a place of the time-zone database, for example "Europe/London".',
    ),
}
LIMITS: dict[str, str] = {
    "minimum": "at least",
    "maximum": "at most",
    "exclusiveMinimum": "more than",
}


def faults_of(error: ValidationError, document: object) -> Iterator[Fault]:
    """Yield what one broken rule means: one fault for each problem it holds.

    Parameters
    ----------
    error : ValidationError
        One of `iter_errors`.
    document : object
        The whole plan document; ids are taken from it.
    """
    for broken in _meant(error):
        yield from _plain_faults(broken, document)


def _meant(error: ValidationError) -> Iterator[ValidationError]:
    """Yield the error, or those of the alternative that was meant by its value."""
    failed: dict[int, list[ValidationError]] = {}
    for one in error.context or ():
        failed.setdefault(int(one.schema_path[0]), []).append(one)
    for errors in failed.values():
        if not any(one.validator == "type" and not one.path for one in errors):
            for one in errors:
                yield from _meant(one)
            return
    yield error


def _plain_faults(error: ValidationError, document: object) -> Iterator[Fault]:
    path = list(error.absolute_path)
    value: Any = error.instance
    if "propertyNames" in error.absolute_schema_path:
        what, fix = _words(error)
        yield Fault(place_in(document, [*path, str(value)]), f"its key {what}", fix)
    elif error.validator == "additionalProperties":
        schema: Any = error.schema
        known = schema["properties"]
        for key in value:
            if key not in known:
                what = "is not a key that belongs here"
                yield Fault(
                    place_in(document, [*path, key]), what, _key_fix(key, known)
                )
    elif error.validator == "required":
        yield from _missing(error, place_in(document, path))
    else:
        yield Fault(place_in(document, path), *_words(error))


def _key_fix(key: str, known: Iterable[str]) -> str:
    folded = key.casefold().replace("-", "_").replace(" ", "_")[:LONGEST_KEY]
    near = get_close_matches(folded, known, n=1)
    if near:
        return f"Did you mean {quoted(near[0])}? Otherwise take it out."
    return f"Take it out, or use one of: {', '.join(known)}."


def _missing(error: ValidationError, where: str) -> Iterator[Fault]:
    # The rule is reported once for each missing key: the first speaks for all.
    value: Any = error.instance
    rule: Any = error.validator_value
    absent = [key for key in rule if key not in value]
    if error.message.startswith(f"'{absent[0]}'"):
        for key in absent:
            yield Fault(where, f'has no "{key}"', f'Give it its "{key}".')


def _words(error: ValidationError) -> Words:
    say = _SAYINGS.get(str(error.validator))
    if say is None:
        return f"is {shown(error.instance)}, which does not belong here", "Correct it."
    return say(error.instance, error.validator_value)


def _any_of(value: Any, rules: list[dict[str, str]]) -> Words:
    kinds = [TYPES[rule["type"]] for rule in rules if "type" in rule]
    names = " or ".join(name for name, _ in kinds)
    return f"is {shown(value)}, not {names}", kinds[0][1]


def _type(value: Any, wanted: str) -> Words:
    name, fix = TYPES[wanted]
    return f"is {shown(value)}, not {name}", fix


def _format(value: Any, wanted: str) -> Words:
    name, fix = FORMATS[wanted]
    return f"is {shown(value)}, not {name}", fix


def _limit(word: str) -> Callable[[Any, Any], Words]:
    def say(value: Any, limit: Any) -> Words:
        return f"is {shown(value)}, but must be {word} {limit:,}", "Correct the number."

    return say


def _choice(value: Any, wanted: list[str]) -> Words:
    return f"is {shown(value)}, which is not a choice here", f"Use {listed(wanted)}."


def _const(value: Any, wanted: Any) -> Words:
    return f"is {shown(value)}, but must be {shown(wanted)}", f"Write {shown(wanted)}."


def _too_short(value: Any, limit: int) -> Words:
    return "is empty", "Write something here, or leave the key out."


def _too_long(value: Any, limit: int) -> Words:
    what = f"is {shown(value)}, {len(value):,} characters where {limit:,} are allowed"
    return what, "Shorten it."


def _too_many(value: Any, limit: int) -> Words:
    return f"holds {len(value):,} where {limit:,} are allowed", "Make the list shorter."


def _forbidden(value: Any, rule: Any) -> Words:
    return f"is {shown(value)}, with characters nobody can see in it", "Retype it."


_SAYINGS: dict[str, Callable[[Any, Any], Words]] = {
    "type": _type,
    "anyOf": _any_of,
    "format": _format,
    "enum": _choice,
    "const": _const,
    "minLength": _too_short,
    "minItems": _too_short,
    "maxLength": _too_long,
    "maxItems": _too_many,
    "not": _forbidden,
    **{keyword: _limit(word) for keyword, word in LIMITS.items()},
}
