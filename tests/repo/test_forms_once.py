"""Every form in which something is filled in carries its one-time word."""

from __future__ import annotations

import re

import pytest
from django.conf import settings

ROOT = settings.BASE_DIR / "templates"
INCLUDE = re.compile(r'\{% include "([^"]+)"[^%]*%\}')
FORM = re.compile(r"<form\b(.*?)</form>", re.S)
FILLED_IN = re.compile(
    r"<(?:textarea|select)\b|<input\b(?![^>]*type=\"(?:hidden|submit|button)\")"
    r"|\{\{ ?(?:field|form(?:\.\w+)?) ?\}\}"
)
# Nobody is signed in yet, or django-allauth does the work and sees to it itself.
STRANGERS = re.compile(
    r"^((registration|account|mfa|usersessions|shared)/"
    r"|accounts/pin\.html|promises/private\.html)"
)


def whole(name: str) -> str:
    """Give a template with all that it includes."""
    return INCLUDE.sub(lambda found: whole(found[1]), (ROOT / name).read_text())


def forms() -> list[tuple[str, str]]:
    found = []
    for path in sorted(ROOT.rglob("*.html")):
        name = str(path.relative_to(ROOT))
        for form in FORM.findall(whole(name)):
            if 'method="post"' in form and FILLED_IN.search(form):
                found.append((name, form))
    return found


FORMS = forms()


def test_there_are_forms_to_look_at():
    assert len(FORMS) > 25


@pytest.mark.parametrize(
    ("name", "form"), FORMS, ids=[f"{n}-{i}" for i, (n, _) in enumerate(FORMS)]
)
def test_it_counts_once(name, form):
    if STRANGERS.match(name):
        assert "{% once %}" not in form
    else:
        assert "{% once %}" in form, f"{name}: a form pressed twice is done twice"
    assert "{% csrf_token %}" in form
