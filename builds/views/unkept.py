"""What a browser may keep of us: nothing that outlives the sign-in.

But for what a technician pressed and could not send, until they sign out.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib.auth.signals import user_logged_out
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_cache_control

LEFT = "signed_out"


@receiver(user_logged_out)
def note(request: HttpRequest | None, **_: Any) -> None:
    """Remember that a visit ends: whoever asks is leaving, or it had gone on too long.

    Only who leaves has been asked about acts that wait on their phone.
    """
    match = getattr(request, "resolver_match", None)
    leaves = match is not None and match.url_name == "sign_out"
    setattr(request, LEFT, '"cache", "storage"' if leaves else '"cache"')


class UnkeptMiddleware:
    """Have pages asked for anew each time, and all forgotten at signing out.

    Not `no-store`, but for customers' pages: with it a browser forgets what was typed
    into a form, too, and going back after a fault would find it empty.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, and say so."""
        answer = self.get_response(request)
        if "Cache-Control" not in answer:
            patch_cache_control(answer, private=True, no_cache=True)
        left = getattr(request, LEFT, "")
        if left:
            answer["Clear-Site-Data"] = left
        return answer
