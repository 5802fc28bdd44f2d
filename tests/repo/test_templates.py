"""Every template compiles, is used, and leads only to addresses that exist."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.conf import settings
from django.template.loader import get_template
from django.urls import URLPattern, URLResolver, get_resolver

ROOT = settings.BASE_DIR / "templates"
TEMPLATES = sorted(str(path.relative_to(ROOT)) for path in ROOT.rglob("*.html"))
BY_ALLAUTH = ("account/", "mfa/", "usersessions/")
ADDRESS = re.compile(r"""\{%-?\s*url\s+(['"])([\w:-]+)\1\s*(.*?)\s*-?%\}""")
FIXED_ADDRESS = re.compile(r"""(?:href|action|hx-(?:get|post))=["']/(?!["'])""")


def read(name: str) -> str:
    return (ROOT / name).read_text()


def arguments(resolver: URLResolver) -> dict[str, set[int]]:
    """Give how many arguments each address takes, by name."""
    found: dict[str, set[int]] = {}
    for one in resolver.url_patterns:
        if isinstance(one, URLResolver):
            for name, counts in arguments(one).items():
                found.setdefault(name, set()).update(counts)
        elif isinstance(one, URLPattern) and one.name:
            found.setdefault(one.name, set()).add(len(one.pattern.converters))
    return found


def given(words: str) -> int:
    """Count the arguments of a url tag, up to `as name`."""
    return len(re.sub(r"\s*\bas\s+\w+$", "", words).split())


def code() -> str:
    sources = [
        path.read_text() for path in Path(settings.BASE_DIR, "builds").rglob("*.py")
    ]
    return "\n".join(sources + [read(name) for name in TEMPLATES])


@pytest.mark.parametrize("name", TEMPLATES)
def test_it_compiles(name):
    get_template(name)


@pytest.mark.parametrize("name", TEMPLATES)
def test_it_leads_to_addresses_that_exist(name):
    known = arguments(get_resolver())
    for _, target, words in ADDRESS.findall(read(name)):
        assert target in known, f"There is no address called {target}."
        assert given(words) in known[target], f"{target} takes other arguments."


def test_addresses_are_found_at_all():
    """The pattern above would pass any template if it matched nothing."""
    found = [
        target for name in TEMPLATES for _, target, _ in ADDRESS.findall(read(name))
    ]
    assert "home" in found
    assert "bench_stop" in found
    assert given("job.key as address") == 1


@pytest.mark.parametrize(
    "name",
    [one for one in TEMPLATES if not one.startswith(BY_ALLAUTH)],
)
def test_it_is_used(name):
    """By a view, or by another template; records pages are named by their file."""
    room, _, page = name.partition("/")
    source = code()
    spelled = name in source or (room == "records" and f'"{page}' in source)
    assert spelled, "Nobody shows this template."


@pytest.mark.parametrize("name", TEMPLATES)
def test_it_writes_no_address_by_hand(name):
    assert not FIXED_ADDRESS.search(read(name))
