"""How django-allauth behaves here: no sign-up, no mail, our own words and secrets."""

from __future__ import annotations

import base64
from hashlib import sha256
from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.mfa.adapter import DefaultMFAAdapter
from cryptography.fernet import Fernet
from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest

from builds.access.visitors import address_of
from builds.models import User, Workshop

UNKNOWN = "192.0.2.0"  # RFC 5737: nobody has it, and what is kept must be an address
SAID = {
    "mfa/messages/totp_activated.txt": "From now on codes are asked for.",
    "mfa/messages/totp_deactivated.txt": "Codes are no longer asked for.",
    "mfa/messages/webauthn_added.txt": "The passkey is added.",
    "mfa/messages/webauthn_removed.txt": "The passkey is removed.",
    "mfa/messages/recovery_codes_generated.txt": "There are new recovery codes.",
    "usersessions/messages/sessions_logged_out.txt": "All others are signed out.",
}


class AccountAdapter(DefaultAccountAdapter):  # type: ignore[misc]
    """Signing in."""

    error_messages = DefaultAccountAdapter.error_messages | {
        "username_password_mismatch": "That name and password do not belong together.",
        "too_many_login_attempts": "Too often wrong. Wait some minutes and try again.",
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Say no: sign-ins come from a terminal."""
        return False

    def get_client_ip(self, request: HttpRequest) -> str:
        """Give where somebody comes from, as all other limits see it."""
        return address_of(request) or UNKNOWN

    def is_reauthentication_required(self, *, app: str, **kwargs: Any) -> bool:
        """Say no where everything is invented and nobody knows a password."""
        return not settings.DEMO

    def send_notification_mail(self, *args: Any, **kwargs: Any) -> None:
        """Send none: nothing here depends on mail."""

    def add_message(
        self,
        request: HttpRequest,
        level: int,
        message_template: str | None = None,
        message_context: dict[str, Any] | None = None,
        extra_tags: str = "",
        message: str | None = None,
    ) -> None:
        """Say what has happened in our own words, or nothing."""
        words = message or SAID.get(message_template or "", "")
        if words:
            messages.add_message(request, level, words, extra_tags=extra_tags)


class FactorAdapter(DefaultMFAAdapter):  # type: ignore[misc]
    """Second factors; their secrets are kept encrypted with this site's key."""

    def encrypt(self, text: str) -> str:
        """Encrypt what is kept of a factor."""
        return _box().encrypt(text.encode()).decode()

    def decrypt(self, encrypted_text: str) -> str:
        """Give it back."""
        return _box().decrypt(encrypted_text.encode()).decode()

    def get_totp_issuer(self) -> str:
        """Give the name that stands in an app of codes."""
        return Workshop.current().name or "The workshop"

    def get_totp_label(self, user: User) -> str:
        """Give whose codes they are."""
        return user.username

    def build_totp_svg(self, url: str) -> str:
        """Draw nothing: the page draws its own square, as our policy allows it."""
        return ""

    def generate_authenticator_name(self, user: User, type: Any) -> str:  # noqa: A002
        """Give a name for a passkey that has none."""
        return "Passkey"


def _box() -> Fernet:
    key = sha256(b"second factors:" + settings.SECRET_KEY.encode()).digest()
    return Fernet(base64.urlsafe_b64encode(key))
