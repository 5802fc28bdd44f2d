"""Who one is, asked once more before something that gives others access.

OWASP ASVS 5.0, 7.5.1 and 7.5.3.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from allauth.account.internal.flows.reauthentication import (
    is_reauthentication_required,
    suspend_request,
)
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.urls import reverse

View = Callable[..., HttpResponseBase]


def asked_again(view: View) -> View:
    """Let an act through if whoever does it has shown lately who they are."""

    @wraps(view)
    def careful(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        acts = request.method == "POST"
        if acts and _is_long_ago(request):
            way: HttpResponseBase = suspend_request(
                request, reverse("account_reauthenticate")
            )
            return way
        return view(request, *args, **kwargs)

    return careful


def _is_long_ago(request: HttpRequest) -> bool:
    return bool(is_reauthentication_required(request, app="builds"))
