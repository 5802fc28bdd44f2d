"""What a password must be: long, and not made of words everybody here would try.

NIST SP 800-63B-4: fifteen letters where it is the only factor, eight where there is a
second; nothing is asked about what kinds of letters they are. OWASP ASVS 5.0, 6.1.2
and 6.2.11: words of the place are no secret.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from allauth.mfa.models import Authenticator
from django.conf import settings
from django.core.exceptions import ValidationError

from builds.access.roles import is_lead
from builds.models import Build, Person, Show, User, Vendor, Workshop

ALONE, WITH_FACTOR = 15, 8
FACTORS = (Authenticator.Type.TOTP, Authenticator.Type.WEBAUTHN)
SHORTEST = 3  # words below this stand in too many others
ALWAYS = (
    "password welcome letmein workshop garage restomod restoration restore classic"
    " motor car cars build builds lead technician customer"
)


def has_factor(user: User) -> bool:
    """Say whether they have set up a second factor."""
    theirs = Authenticator.objects.filter(user_id=user.pk, type__in=FACTORS)
    return bool(theirs.exists())


def least_length(user: User | None) -> int:
    """Give how long a password is at least.

    The shorter one is for leads of a site that lets them do nothing without their
    second factor; anybody else may take theirs away again.
    """
    held = settings.SECOND_FACTOR and user is not None and is_lead(user)
    return WITH_FACTOR if held and user and has_factor(user) else ALONE


class LengthValidator:
    """Refuse a short one."""

    def validate(self, password: str, user: User | None = None) -> None:
        """Raise ValidationError for it."""
        least = least_length(user)
        if len(password) < least:
            raise ValidationError(
                f"This password is too short. Write at least {least} letters; a few"
                " words that do not belong together are easiest to remember."
            )

    def get_help_text(self) -> str:
        """Say what is asked for."""
        return f"At least {ALONE} letters."


class OwnWordsValidator:
    """Refuse one in which little is left without the workshop's own words.

    A sentence may have “workshop” in it; half of the least length must be something
    else.
    """

    def validate(self, password: str, user: User | None = None) -> None:
        """Raise ValidationError for it."""
        left = password.casefold()
        found = []
        for word in sorted(own_words(user), key=len, reverse=True):
            if word in left:
                found.append(word)
                left = left.replace(word, " ")
        if found and len("".join(left.split())) < (least_length(user) + 1) // 2:
            raise ValidationError(
                "Without words that anybody here would try first"
                f" ({', '.join(found)}), too little of this password is left."
            )

    def get_help_text(self) -> str:
        """Say what is asked for."""
        return "More than names of the workshop, its cars and its people."


def own_words(user: User | None = None) -> set[str]:
    """Give words that are known to whoever knows the workshop, in small letters."""
    said: list[object] = [ALWAYS]
    said += Workshop.objects.values_list("name", "town", "phone")
    for model in (Person, Vendor, Show):
        said += model._default_manager.values_list("key", "name")
    said += Build.objects.values_list("key", "name", "customer")
    if user is not None:
        said.append((user.username, user.first_name, user.last_name))
    return {one for one in _split(said) if len(one) >= SHORTEST}


def _split(said: Iterable[object]) -> Iterable[str]:
    for words in said:
        for one in words if isinstance(words, tuple) else (words,):
            yield from re.split(r"[\W_]+", str(one).casefold())
