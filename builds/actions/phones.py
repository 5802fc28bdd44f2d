"""Phones paired with a technician's sign-in: invited, accepted, opened, ended."""

from __future__ import annotations

from datetime import timedelta

from allauth.usersessions.models import UserSession
from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.utils import timezone

from builds.access.tokens import digest_of, new_token
from builds.actions.errors import Refused
from builds.actions.record import record
from builds.models import PairedPhone, Role, User

INVITED = timedelta(minutes=10)
MOST_MISSES = 5
SHORTEST, LONGEST = 4, 8
IN_A_ROW = "01234567890 09876543210"
PIN_HOW = f"Choose {SHORTEST} to {LONGEST} digits."
TOO_PLAIN = "Choose digits that are neither all the same nor in a row."
WRONG = "That is not it."
ENDED = "Too often wrong: this phone opens nothing any more. Ask the lead to pair it."


@transaction.atomic
def invite_phone(*, by: User, user: User) -> tuple[PairedPhone, str]:
    """Let a technician pair a phone within ten minutes; give the invitation."""
    if user.role != Role.TECHNICIAN or not user.is_active:
        raise Refused("Only a technician’s phone is paired.")
    secret = new_token()
    phone = PairedPhone.objects.create(user=user, digest=digest_of(secret))
    record(by=by, verb="invited phone", subject=user, planned=False)
    return phone, secret


def invited(secret: str) -> PairedPhone | None:
    """Give the phone an invitation is for, if it still holds and is not used."""
    phones = PairedPhone.objects.filter(
        digest=digest_of(secret), pin="", ended_at=None, user__is_active=True
    )
    return phones.filter(at__gt=timezone.now() - INVITED).select_related("user").first()


@transaction.atomic
def pair_phone(*, invitation: str, pin: str) -> tuple[PairedPhone, str]:
    """Accept an invitation with a PIN; give the secret that the phone keeps."""
    phone = invited(invitation)
    if phone is None:
        raise Refused("This invitation is over or used. Ask for a new one.")
    check_pin(pin)
    secret = new_token()
    # One statement: of two who scan the same square, one is let in.
    taken = PairedPhone.objects.filter(pk=phone.pk, digest=phone.digest).update(
        digest=digest_of(secret), pin=make_password(pin), seen_at=timezone.now()
    )
    if not taken:
        raise Refused("This invitation is used already.")
    record(by=phone.user, verb="paired phone", subject=phone.user, planned=False)
    return phone, secret


def check_pin(pin: str) -> None:
    """Refuse a PIN that is no PIN, or the first that anybody would try."""
    if not (pin.isascii() and pin.isdigit() and SHORTEST <= len(pin) <= LONGEST):
        raise Refused(PIN_HOW)
    if len(set(pin)) == 1 or pin in IN_A_ROW:
        raise Refused(TOO_PLAIN)


def phone_of(secret: str) -> PairedPhone | None:
    """Give the phone that keeps this secret, if it may still open something."""
    phones = PairedPhone.objects.filter(digest=digest_of(secret), ended_at=None)
    phones = phones.filter(user__is_active=True, user__role=Role.TECHNICIAN)
    return phones.exclude(pin="").select_related("user").first()


@transaction.atomic
def open_phone(*, phone: PairedPhone, pin: str) -> str:
    """Try a PIN; give what is wrong, or nothing if it opens."""
    phone = PairedPhone.objects.select_for_update(of=("self",)).get(pk=phone.pk)
    if phone.ended_at is not None:
        return ENDED
    if check_password(pin[:64], phone.pin):
        phone.misses, phone.seen_at = 0, timezone.now()
        phone.save(update_fields=["misses", "seen_at"])
        return ""
    phone.misses += 1
    if phone.misses >= MOST_MISSES:
        phone.ended_at = timezone.now()
        record(by=None, verb="ended phone", subject=phone.user, planned=False)
    phone.save(update_fields=["misses", "ended_at"])
    return ENDED if phone.ended_at else WRONG


@transaction.atomic
def end_phone(*, by: User, phone: PairedPhone) -> PairedPhone:
    """Let a phone open nothing any more."""
    if phone.ended_at is None:
        phone.ended_at = timezone.now()
        phone.save(update_fields=["ended_at"])
        _sign_out(phone.user)
        record(by=by, verb="ended phone", subject=phone.user, planned=False)
    return phone


def _sign_out(user: User) -> None:
    """End every visit of theirs: which of them is the lost phone cannot be told."""
    for session in UserSession.objects.filter(user=user):
        session.end()
