"""The program that stands between a technician's phone and a bad connection."""

from __future__ import annotations

import json
from functools import cache
from hashlib import sha256
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles.storage import staticfiles_storage
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.http import require_safe

from builds.views.error_words import Words

ROOM = Path(settings.BASE_DIR) / "builds" / "static"
PROGRAM = "builds/js/worker.js"
OURS = ("builds/css/**/*.css", "builds/js/*.js", "builds/img/*.svg")
NO_CONNECTION = Words(
    "No connection",
    "This page is not kept on this phone. What you pressed before is.",
    "Go back to a page you have had open, or wait for the connection.",
)


@require_safe
def worker(_request: HttpRequest) -> HttpResponse:
    """Give the program, with the name of this release and what belongs to it."""
    facts = {
        "release": release(),
        "shell": [static(name) for name in shell() if name != PROGRAM],
        "assets": settings.STATIC_URL,
        "offline": reverse("offline"),
        "door": reverse("sign_in"),
    }
    text = f"const RELEASE = {json.dumps(facts)};\n{(ROOM / PROGRAM).read_text()}"
    answer = HttpResponse(text, content_type="text/javascript; charset=utf-8")
    answer["Service-Worker-Allowed"] = "/"
    answer["Cache-Control"] = "no-cache"
    return answer


@require_safe
def offline(request: HttpRequest) -> HttpResponse:
    """Show what stands where a page would, if it is not kept."""
    return render(request, "error.html", {"words": NO_CONNECTION})


def release() -> str:
    """Give a name that changes with any of the files that are served."""
    served = getattr(staticfiles_storage, "manifest_hash", "")
    return served or sha256(b"".join(map(_bytes, shell()))).hexdigest()[:12]


@cache
def shell() -> tuple[str, ...]:
    """Name what a kept page needs beside itself."""
    found = [path for pattern in OURS for path in ROOM.glob(pattern)]
    names = sorted(path.relative_to(ROOM).as_posix() for path in found)
    return (*names, "django_htmx/htmx-2.min.js")


def _bytes(name: str) -> bytes:
    path = ROOM / name
    return path.read_bytes() if path.exists() else b""
