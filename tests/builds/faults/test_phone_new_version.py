"""A phone that has the last version's program when the next one is put in place."""

from __future__ import annotations

import shutil
import subprocess
import sys

import pytest
from django.conf import settings

from tests.browser.visitor import PHONE, opened
from tests.builds.faults.phone import (
    box,
    browser,
    keep,
    rows,
    technician,
    wait_for,
)
from tests.builds.faults.site import Site, free_port

pytestmark = [pytest.mark.faults, pytest.mark.fault("F15")]

JOB = "/bench/q114-x02/"
COPIED = ("builds", "templates")  # the engine stays where it is compiled
ENGINE = {"PYTHONPATH": str(settings.BASE_DIR)}
# The program that was there before has gone, and with it all that it kept.
GONE = """async (old) => {
  return !(await caches.keys()).some((name) => name.includes(old));
}"""
NEW_PROGRAM = """document.documentElement.dataset.build = "two";"""


@pytest.fixture(scope="module")
def chromium():
    with browser() as chromium:
        yield chromium


@pytest.fixture(scope="module")
def next_version(tmp_path_factory, served):
    """The whole program once more, with a script and a style that are not the same."""
    root = tmp_path_factory.mktemp("next")
    for room in COPIED:
        shutil.copytree(settings.BASE_DIR / room, root / room)
    shutil.copy(settings.BASE_DIR / "manage.py", root)
    static = root / "builds/static/builds"
    with (static / "js/app.js").open("a") as script:
        script.write(NEW_PROGRAM)
    with (static / "css/base.css").open("a") as style:
        style.write("\nhtml { --build: two; }\n")
    collect = (sys.executable, "manage.py", "collectstatic", "--no-input", "-v0")
    subprocess.run(collect, cwd=root, env=served | ENGINE, check=True)
    return root


@pytest.fixture
def upgrade(served, database, next_version, tmp_path, _static):
    """Serve this version; give its address, and a way to put the next in its place.

    Without HTTPS, which Chromium asks of nobody on its own machine.
    """
    plain = ENGINE | {
        "DATABASE_URL": f"sqlite:///{database}",
        "SECURE_SSL_REDIRECT": "0",
    }
    port, log = free_port(), tmp_path / "site.log"
    running = [Site(port, "", served | plain, log)]

    def put_in_place():
        running.pop().stop()
        running.append(Site(port, "", served | plain, log, next_version))

    yield f"http://127.0.0.1:{port}", put_in_place
    running.pop().stop()


def started(database) -> int:
    found = "select count(*) from builds_event where verb = 'started job'"
    return rows(database, found)[0][0]


def test_the_next_load_has_the_new_program_and_nothing_of_the_old(chromium, upgrade):
    site, put_in_place = upgrade
    tom = technician(chromium, site)
    page = tom.page
    keep(page, "/bench/", JOB)
    (old,) = (
        name.removeprefix("shell-")
        for name in page.evaluate("caches.keys()")
        if name.startswith("shell-")
    )
    put_in_place()
    page.goto(f"{site}/bench/")
    assert page.evaluate("document.documentElement.dataset.build") == "two"
    wait_for(page, GONE, old)
    names = page.evaluate("caches.keys()")
    assert len([name for name in names if name.startswith("shell-")]) == 1

    keep(page, JOB)
    page.context.set_offline(True)
    page.goto(site + JOB)
    assert "no connection" in page.locator("[data-as-of]").inner_text()
    assert page.evaluate("document.documentElement.dataset.build") == "two"
    style = "getComputedStyle(document.documentElement).getPropertyValue('--build')"
    assert page.evaluate(style).strip() == "two"
    assert tom.wrong == []


def test_a_form_of_the_old_version_is_taken(chromium, upgrade, database):
    site, put_in_place = upgrade
    page = technician(chromium, site).page
    page.goto(site + JOB)
    put_in_place()
    page.get_by_role("button", name="Start", exact=True).click()
    page.get_by_text("is under way.").wait_for()
    assert started(database) == 1


def test_one_whose_word_has_run_out_gets_a_fresh_one(chromium, upgrade, database):
    site, put_in_place = upgrade
    tom = technician(chromium, site)
    tom.expected = ("403 (Forbidden)", "Error Code 403")
    page = tom.page
    page.goto(site + JOB)
    put_in_place()
    page.context.clear_cookies(name="__Host-csrf")
    page.get_by_role("button", name="Start", exact=True).click()
    page.get_by_text("All sent").wait_for()
    assert "is under way." in box(page)
    assert started(database) == 1
    assert tom.wrong == []


def test_without_script_it_is_refused_with_words(chromium, upgrade, database):
    site, put_in_place = upgrade
    tom = opened(chromium, site, PHONE, java_script_enabled=False)
    tom.enter("technician")
    page = tom.page
    page.goto(site + JOB)
    put_in_place()
    page.context.clear_cookies(name="__Host-csrf")
    page.get_by_role("button", name="Start", exact=True).click()
    page.get_by_role("heading", name="This page had been open for too long").wait_for()
    assert started(database) == 0
    page.goto(site + JOB)
    page.get_by_role("button", name="Start", exact=True).click()
    page.get_by_text("is under way.").wait_for()
    assert started(database) == 1
