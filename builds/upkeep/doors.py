"""Leave word in the log of who came in, who went, and who was not let in.

OWASP ASVS 5.0, 16.3.1. What was typed is not written down: people type a password
where the name goes.
"""

from __future__ import annotations

import logging
from typing import Any

from django.contrib.auth.signals import (
    user_logged_in,
    user_logged_out,
    user_login_failed,
)
from django.dispatch import receiver

from builds.models import User

log = logging.getLogger("builds.doors")


def tell(words: str, user: User | None, *, level: int = logging.INFO) -> None:
    """Leave a line about somebody at the door; None is somebody unknown."""
    log.log(level, words, extra={"facts": {"user": getattr(user, "pk", None)}})


@receiver(user_logged_in)
def came_in(user: User, **_: Any) -> None:
    """Say who signed in, by whatever door."""
    tell("Signed in.", user)


@receiver(user_logged_out)
def went(user: User | None, **_: Any) -> None:
    """Say who signed out."""
    tell("Signed out.", user)


@receiver(user_login_failed)
def not_let_in(credentials: dict[str, Any], **_: Any) -> None:
    """Say whose name a wrong password was given for, if anybody has that name."""
    name = str(credentials.get("username", ""))[:150].replace("\0", "")
    found = User.objects.filter(username=name).first() if name else None
    tell("A sign-in was refused.", found, level=logging.WARNING)
