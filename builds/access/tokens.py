"""Words nobody can guess, and what is kept of them."""

from __future__ import annotations

from hashlib import sha256
from secrets import token_urlsafe

BYTES = 32  # 256 bits; OWASP ASVS 5.0, 11.5.1 asks for 128
SHOWN = 6


def new_token() -> str:
    """Give a new one; it is shown once and never kept."""
    return token_urlsafe(BYTES)


def digest_of(token: str) -> str:
    """Give what is kept of a token: enough to know it again, not to use it.

    A long random one needs no slow hash.
    """
    return sha256(token.encode(errors="replace")).hexdigest()
