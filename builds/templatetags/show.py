"""Show dates, hours, odds and conditions the same way on every page."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import datetime
from functools import lru_cache
from secrets import token_hex

from django.template import Library
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from builds.charts import wording
from builds.charts.conditions import PIECE_SIGNS, SIGNS
from builds.charts.device_words import device
from builds.charts.labels_qr import square_code

register = Library()
UNDO = "undo:"

register.filter(device)


def _local(when: wording.When) -> wording.When:
    """Turn a stored instant into the wall clock of the workshop."""
    if isinstance(when, datetime) and timezone.is_aware(when):
        return timezone.localtime(when)
    return when


@register.filter
def dialled(number: str) -> str:
    """Give what a phone dials of a number as written: its digits, and a plus."""
    return "".join(one for one in number if one in "+0123456789")


@register.filter
def day(when: wording.When) -> str:
    """Say a day: `Fri 14 May`."""
    return wording.day(_local(when))


@register.filter
def day_year(when: wording.When) -> str:
    """Say a day with its year."""
    return wording.day_year(_local(when))


@register.filter
def clock(when: wording.When) -> str:
    """Say the time of day."""
    return wording.clock(_local(when))


@register.filter
def moment(when: wording.When) -> str:
    """Say a day and the time of day."""
    return wording.moment(_local(when))


@register.simple_tag
def day_range(first: wording.When, last: wording.When) -> str:
    """Say a stretch of days."""
    return wording.day_range(_local(first), _local(last))


register.filter("hours", wording.hours)
register.filter("whole_hours", wording.whole_hours)
register.filter("days", wording.days)
register.filter("in_hand", wording.in_hand)
register.filter("in_100", wording.in_100)
register.filter("in_100_bare", wording.hundredths)
register.filter("odds_word", wording.odds_word)
register.filter("counted", wording.counted)


@register.simple_tag
def mark(condition: str, how: str = "") -> SafeString:
    """Draw the sign of a condition with its word; `bare` hides the word from sight."""
    sign = (SIGNS | PIECE_SIGNS)[condition]
    return _drawn("_parts/mark.html", word=condition, sign=sign, bare=how == "bare")


@register.simple_tag
def odds(chance: float | None, how: str = "") -> SafeString:
    """Draw the dial of a chance with its word and its hundredths."""
    word = wording.odds_word(chance)
    return _drawn(
        "_parts/odds.html",
        known=chance is not None,
        word=word,
        sign=word.replace(" ", "-"),
        in_100=wording.in_100(chance),
        short=how == "short",
    )


@lru_cache(maxsize=1000)
def _drawn(part: str, **facts: Hashable) -> SafeString:
    """Give what is on a page a hundred times, and has few ways to be, drawn once."""
    return render_to_string(part, facts)


@register.simple_tag
def once() -> SafeString:
    """Put a one-time word into a form, so that sent twice it counts once."""
    return format_html('<input type="hidden" name="once" value="{}" />', token_hex(16))


@register.filter
def offset(place: float, by: float) -> float:
    """Move a place in a picture; Django's own `add` cuts fractions off."""
    return round(place + by, 1)


@register.filter
def undo_url(tags: str | None) -> str:
    """Give the address that takes a message's act back, if it carries one."""
    found = (tag for tag in (tags or "").split() if tag.startswith(UNDO))
    return next(found, "").removeprefix(UNDO)


@register.inclusion_tag("_parts/square.html")
def square(address: str, says: str) -> dict[str, object]:
    """Draw an address as a square that a phone scans from the screen."""
    return {"code": square_code(address), "says": says, "large": True}
