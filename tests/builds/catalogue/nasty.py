"""Things people and programs type that are not what was asked for."""

from __future__ import annotations

from hypothesis import strategies as st

# NUL, right-to-left override, zero-width joiner, combining marks, four-byte letters,
# numbers that are none, days at the ends of the calendar, and ways out of a page.
KNOWN = (
    "", " ", "\0", "a\0b", "\u202eevitcartta", "👩\u200d🔧", "e\u0301" * 50, "\ufeff",
    "𠜎𠜱", "\ud7ff", "\uffff", "a\r\nSet-Cookie: x=1", "\x1b[31m", "\u2028",
    "1e309", "-1e309", "NaN", "inf", "-0", "0", "-1", "1.5d", "99999999999999999999",
    "2147483648", "9223372036854775808", "0x10", "1_000", "½", "٣", "1,5", "1h-2h",
    "0001-01-01", "9999-12-31", "10000-01-01", "2027-02-30", "31/12/9999", "1 jan 1",
    "29 feb 2027", "2027-01-11T25:00", "tomorrow", "fri", "24:00", "17-9",
    "<script>alert(1)</script>", "{{ 7*7 }}", "' or 1=1 --", "../../etc/passwd", "%00",
    "=cmd|' /C calc'!A0", "on", "true", "[]", "{}", "null", "a,b", "x" * 5000,
    "y" * 1_000_000,
    "coupe", "weld", "first", "plate", "plater", "summer", "tom", "booth", "evenings",
    "2h", "1", "3", "1 feb", "2 feb 2027 9:00", "mon", "complete", "after", "bench",
)  # fmt: skip
LETTERS = st.characters(exclude_categories=("Cs",))  # halves of a letter are no text
VALUES = st.one_of(st.sampled_from(KNOWN), st.text(LETTERS, max_size=40))
LISTS = st.lists(VALUES, min_size=1, max_size=3)  # a name may come more than once
STRANGE = ("id", "pk", "version", "role", "is_staff", "key", "by", "__class__", "on[]")


def typed(names: list[str]) -> st.SearchStrategy[dict[str, list[str]]]:
    """Give some of the fields filled in, and some that nobody asked for."""
    known = st.sampled_from(sorted(names) or ["x"])
    return st.dictionaries(
        st.one_of(known, st.sampled_from(STRANGE)), LISTS, max_size=12
    )


def spoilt(names: list[str]) -> st.SearchStrategy[dict[str, list[str]]]:
    """Give one field or two, filled in wrongly, more than once or not at all."""
    known = st.sampled_from(sorted(names) or ["x"])
    values = st.lists(VALUES, max_size=2)
    return st.dictionaries(known, values, min_size=1, max_size=2)
