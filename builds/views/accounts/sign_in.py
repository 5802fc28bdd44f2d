"""The door: name and password, a passkey, a paired phone, or the sample's buttons."""

from __future__ import annotations

from typing import Any

from allauth.account.views import LoginView
from django.conf import settings

from builds.actions.phones import phone_of
from builds.views.accounts.phones import COOKIE


class SignInView(LoginView):  # type: ignore[misc]
    """The page of the door."""

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        """Say which ways in there are here."""
        phone = phone_of(self.request.COOKIES.get(COOKIE, ""))
        ways = {"demo": settings.DEMO, "phone": phone}
        found: dict[str, Any] = super().get_context_data(**kwargs) | ways
        return found
