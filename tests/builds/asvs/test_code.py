"""What the code must not do at all, read off its own source. OWASP ASVS 5.0."""

from __future__ import annotations

import ast
import logging
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from builds.forms.exchange import LARGEST
from builds.models import Job

ROOT = Path(settings.BASE_DIR)
SOURCES = sorted((ROOT / "builds").rglob("*.py")) + sorted(
    (ROOT / "scheduling").rglob("*.py")
)
SCRIPTS = sorted((ROOT / "builds" / "static").rglob("*.js"))
# Raw SQL: names of our own tables, and pragmas; nothing that anybody typed.
RAW = {"builds/upkeep/databases.py", "builds/upkeep/health.py"}
# Whole statements, written out; what differs goes beside them as values.
WRITTEN_OUT = {"builds/models/answered_job.py": "INSERT"}
# Random draws of the engine, from a seed; nothing that must not be guessed.
SEEDED = {"scheduling"}


def calls() -> Iterator[tuple[str, str, ast.Call]]:
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call):
                where = path.relative_to(ROOT).as_posix()
                yield where, ast.unparse(node.func), node


CALLS = list(calls())


def imports() -> set[tuple[str, str]]:
    found = set()
    for path in SOURCES:
        where = path.relative_to(ROOT).as_posix()
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                found |= {(where, one.name) for one in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                found.add((where, node.module))
    return found


def test_calls_are_found_at_all():
    assert len(CALLS) > 1000


def test_asvs_1_3_2_nothing_is_made_into_code():
    assert [c for c in CALLS if c[1] in ("eval", "exec", "compile", "__import__")] == []


def test_asvs_1_2_5_no_shell_is_given_words():
    for where, name, node in CALLS:
        assert name not in ("os.system", "os.popen"), where
        assert not any(one.arg == "shell" for one in node.keywords), where


def test_asvs_1_2_4_the_database_is_asked_by_its_own_language_only():
    asked = {where for where, name, _ in CALLS if name.endswith((".raw", ".extra"))}
    assert asked == set()
    executed = {
        w for w, name, _ in CALLS if name.endswith((".execute", ".executemany"))
    }
    assert {w for w in executed if "/migrations/" not in w} <= RAW | {*WRITTEN_OUT}


@pytest.mark.parametrize(("where", "name"), WRITTEN_OUT.items())
def test_asvs_1_2_4_a_statement_written_out_is_one_constant(where, name):
    tree = ast.parse((ROOT / where).read_text())
    (said,) = (
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == name
    )
    assert isinstance(said, ast.Constant)
    run = [
        call.args
        for at, called, call in CALLS
        if at == where and called.endswith((".execute", ".executemany"))
    ]
    assert [ast.unparse(args[0]) for args in run] == [name]
    assert [len(args) for args in run] == [2]


def test_asvs_1_2_4_and_what_is_searched_for_is_not_run(lead_client, shop):
    words = "' or 1=1; drop table builds_job; --"
    assert lead_client.get(reverse("people"), {"q": words}).status_code == 200
    assert Job.objects.count() == 0


def test_asvs_11_4_1_no_weak_sums():
    used = {name for _, name, _ in CALLS}
    assert not used & {"md5", "sha1", "hashlib.md5", "hashlib.sha1"}
    assert "MD5" not in (ROOT / "builds" / "settings.py").read_text()


def test_asvs_11_3_1_nothing_is_locked_by_hand():
    modules = {module for _, module in imports() if module.startswith("cryptography")}
    assert modules == {"cryptography.fernet"}


def test_asvs_11_3_2_what_locks_is_an_approved_way():
    """Fernet's specification: AES in CBC mode with PKCS7, then HMAC with SHA-256."""
    from cryptography.fernet import Fernet

    token = Fernet(Fernet.generate_key()).encrypt(b"x")
    assert token.startswith(b"gAAAAA")


def test_asvs_11_5_1_what_must_not_be_guessed_is_not_drawn_from_a_seed():
    guessed = {w for w, module in imports() if module == "random"}
    assert {w for w in guessed if w.split("/")[0] not in SEEDED} == set()


def test_asvs_3_2_2_scripts_write_words_and_no_markup():
    for path in SCRIPTS:
        text = path.read_text()
        assert not re.search(
            r"innerHTML|outerHTML|insertAdjacentHTML|document\.write", text
        )
        assert not re.search(r"\beval\(|new Function", text)


def test_asvs_14_3_3_nothing_sensitive_is_kept_in_the_browser():
    """A colour; what a technician typed until it is sent; pages marked for that, of
    which `tests/builds/views/phone/test_kept_pages.py` says what is not in them."""
    kept = {
        key for p in SCRIPTS for key in re.findall(r'setItem\("(\w+)"', p.read_text())
    }
    assert kept <= {"theme"}
    for word, where in (("indexedDB", "outbox.js"), ("caches.open", "worker.js")):
        assert {path.name for path in SCRIPTS if word in path.read_text()} == {where}


@pytest.mark.parametrize(
    "address", ["/.git/config", "/.env", "/manage.py", "/db.sqlite3"]
)
def test_asvs_13_4_1_nothing_that_lies_beside_the_site_is_served(address, client, db):
    assert client.get(address).status_code == 404
    assert ".git" not in (ROOT / ".dockerignore").read_text()


def upload(client, name: str, content: bytes):
    file = SimpleUploadedFile(name, content, content_type="application/json")
    return client.post(reverse("exchange"), {"file": file})


def test_asvs_5_2_1_a_file_that_is_too_large_is_refused(lead_client, shop):
    with mock.patch("builds.forms.exchange.LARGEST", 10):
        assert upload(lead_client, "plan.json", b"{" + b" " * 20).status_code == 422
    assert LARGEST / 1_000_000 < settings.BODY_LARGEST_MB


@pytest.mark.parametrize(
    "content", [b"MZ\x90\0", b"<svg/>", b"\xff\xfe{\0}\0", b"[]", b"nul"]
)
def test_asvs_5_2_2_a_file_that_is_no_plan_is_refused(content, lead_client, shop):
    assert upload(lead_client, "plan.json", content).status_code == 422


def test_asvs_5_3_1_what_is_handed_in_lies_where_nothing_is_served_or_run(client, db):
    """No address but the static files' leads to a file by its name."""
    kept = Path(settings.MEDIA_ROOT).resolve()
    for served in (settings.STATIC_ROOT, *settings.STATICFILES_DIRS, ROOT / "builds"):
        assert not kept.is_relative_to(Path(served).resolve())
    assert settings.MEDIA_URL in ("", "/")
    for path in (kept / "sill.jpg").parts[-2:], ("media", "pieces", "sill.jpg"):
        assert client.get("/" + "/".join(path)).status_code == 404


@pytest.mark.parametrize("name", ["../../x.json", "/etc/x.json", "a\nb.json", '".json'])
def test_asvs_5_3_2_the_name_of_a_file_goes_nowhere(name, lead_client, shop):
    with mock.patch("builtins.open") as opened:
        opened.side_effect = AssertionError("nothing is to be opened")
        upload(lead_client, name, b"[]")
    assert not (ROOT.parent / "x.json").exists()


def test_asvs_16_3_4_a_fault_is_logged(caplog, db):
    client = Client(raise_request_exception=False)
    with mock.patch(
        "builds.views.accounts.sign_in.SignInView.dispatch", side_effect=ValueError("x")
    ):
        client.get(reverse("sign_in"))
    assert any(one.exc_info for one in caplog.records)


def test_asvs_16_2_1_every_request_leaves_who_what_where_and_how_it_ended(
    lead_client, lena, caplog
):
    with caplog.at_level(logging.INFO, "builds.requests"):
        lead_client.get(reverse("people"))
    facts = caplog.records[-1].facts
    assert (facts["method"], facts["path"]) == ("GET", "/people/")
    assert (facts["status"], facts["user"]) == (200, lena.pk)


def test_asvs_16_2_2_times_in_the_log_are_utc():
    from builds.upkeep.logs import JsonLines

    record = logging.LogRecord("x", logging.INFO, "x", 1, "x", None, None)
    assert '+00:00"' in JsonLines().format(record)


def test_no_secret_lies_in_the_repository():
    """Shapes of keys that give themselves away; what tests make up is marked here."""
    shapes = re.compile(
        r"-----BEGIN [A-Z ]*PRIVATE KEY|AKIA[0-9A-Z]{16}|gh[pousr]_\w{36}"
        r"|xox[abp]-\w{10}|(?<![\w/+-])[\w-]{43}=(?![\w=])"
        r"|(?:password|secret|token|api_?key)\s*[:=]\s*[\"'][^\"'\s{}<>$%]{20,}[\"']",
        re.I,
    )
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if listed.returncode:
        pytest.skip("This is no clone.")
    found = []
    for name in listed.stdout.splitlines():
        path = ROOT / name
        if path.suffix in (".png", ".svg") or not path.is_file():
            continue
        found += [f"{name}: {one}" for one in shapes.findall(path.read_text())]
    assert found == []
    names = {Path(name).name for name in listed.stdout.splitlines()}
    assert not names & {".env", "id_rsa", "db.sqlite3", "workshop.env"}
