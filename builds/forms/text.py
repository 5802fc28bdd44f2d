"""Words people type: no letters that cannot be kept, none that turn the line round."""

from __future__ import annotations

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

LONGEST = 4000  # as in the plan file
LONGEST_WORD = 100
LONGEST_TYPED = 60
# Marks nobody sees, and those that turn the reading direction round.
UNSEEN = re.compile(
    "[\x01-\x08\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u206f]"
)
NUL = "This holds a character that cannot be kept. Type it again by hand."


def clean_text(text: str, *, lines: bool = False) -> str:
    """Take out what nobody can see; refuse a NUL, which no database keeps."""
    if "\0" in text:
        raise ValidationError(NUL)
    text = UNSEEN.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    return text.strip() if lines else " ".join(text.split())


class TextField(forms.CharField):
    """One line of plain words; a subclass may keep its line breaks."""

    lines = False

    def __init__(self, *, longest: int = LONGEST, **kwargs: Any) -> None:
        self.longest = longest
        super().__init__(**kwargs)
        # Django's own check for NUL says it in other words, and later.
        self.validators = []

    def to_python(self, value: Any) -> str:
        """Clean what was typed."""
        text = "" if value is None else str(value)
        if len(text) > 4 * self.longest:
            raise ValidationError(self.too_long(len(text)))
        text = clean_text(text, lines=self.lines)
        if len(text) > self.longest:
            raise ValidationError(self.too_long(len(text)))
        return text

    def too_long(self, letters: int) -> str:
        """Say how much too long it is."""
        return f"This has {letters} letters. Write no more than {self.longest}."


class LinesField(TextField):
    """Several lines of plain words."""

    lines = True
    widget = forms.Textarea(attrs={"rows": 4})


def search_words(text: str) -> str:
    """Take what was typed into a search box, as far as it can be looked for."""
    return " ".join(UNSEEN.sub("", text.replace("\0", "")).split())[:LONGEST_WORD]
