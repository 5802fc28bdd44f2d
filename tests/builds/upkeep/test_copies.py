"""A copy that is not whole, not ours or not of this version is not put back."""

from __future__ import annotations

import io
import json
import os
import zipfile
from unittest import mock

import pytest
from cryptography.fernet import Fernet
from django.core.management import CommandError, call_command

from builds.models import LifeSign
from builds.upkeep import copies
from builds.upkeep.copies import make_copy, put_back
from builds.upkeep.locked import CopyError, new_key, write_locked
from tests.factories.build import BuildFactory

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def copy(kept, settings):
    BuildFactory(key="coupe", name="Grey coupe")
    return make_copy(kept, key=settings.BACKUP_KEY)


def opened(copy, key) -> dict[str, bytes]:
    """Unlock it with the library alone."""
    with zipfile.ZipFile(io.BytesIO(Fernet(key).decrypt(copy.read_bytes()))) as pack:
        return {name: pack.read(name) for name in pack.namelist()}


def lock_again(path, members, key) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as pack:
        for name, content in members.items():
            pack.writestr(name, content)
    write_locked(path, packed.getvalue(), key)


def test_nobody_reads_it_without_the_key(copy):
    assert b"Grey coupe" not in copy.read_bytes()
    with pytest.raises(CopyError, match="another key"):
        put_back(copy, key=new_key())


def test_it_says_what_it_holds(copy, settings):
    facts = json.loads(opened(copy, settings.BACKUP_KEY)["manifest.json"])
    assert facts["app"]
    assert facts["rows"]["builds_build"] == 1
    assert "builds.0001_initial" in facts["migrations"]
    assert set(facts["sha256"]) >= {"rows.json"}


def test_a_byte_that_changed_is_found(copy, settings):
    whole = bytearray(copy.read_bytes())
    whole[len(whole) // 2] ^= 1
    copy.write_bytes(whole)
    with pytest.raises(CopyError, match="damaged"):
        put_back(copy, key=settings.BACKUP_KEY)


def test_a_file_that_was_changed_inside_is_found(copy, settings):
    members = opened(copy, settings.BACKUP_KEY)
    members["rows.json"] = b"[]"
    lock_again(copy, members, settings.BACKUP_KEY)
    with pytest.raises(CopyError, match=r"rows\.json is not what it was"):
        put_back(copy, key=settings.BACKUP_KEY)


def test_a_copy_of_a_newer_version_is_refused_before_anything_is_touched(
    copy, settings, everything
):
    members = opened(copy, settings.BACKUP_KEY)
    facts = json.loads(members["manifest.json"])
    facts["migrations"].append("builds.9999_later")
    members["manifest.json"] = json.dumps(facts).encode()
    lock_again(copy, members, settings.BACKUP_KEY)
    before = everything()
    with pytest.raises(CopyError, match=r"newer version.*9999_later"):
        put_back(copy, key=settings.BACKUP_KEY)
    assert everything() == before


def test_without_a_key_or_a_folder_it_says_what_to_do(kept, settings):
    settings.BACKUP_KEY = ""
    with pytest.raises(CommandError, match="--new-key"):
        call_command("backup")
    settings.BACKUP_KEY = "short"
    with pytest.raises(CommandError, match="not a key"):
        call_command("backup")
    settings.BACKUP_FOLDER = ""
    with pytest.raises(CommandError, match="BACKUP_FOLDER"):
        call_command("backup")


def test_a_key_it_makes_is_a_key(capsys):
    call_command("backup", new_key=True)
    Fernet(capsys.readouterr().out.strip())


def test_broken_off_in_the_middle_there_is_no_copy_and_no_sign_of_one(kept, settings):
    with (
        mock.patch.object(os, "fsync", side_effect=OSError("no space")),
        pytest.raises(OSError, match="no space"),
    ):
        make_copy(kept, key=settings.BACKUP_KEY)
    assert list(kept.glob("*.copy")) == []
    assert not LifeSign.objects.filter(name=LifeSign.COPY).exists()


def test_a_copy_is_a_sign_of_life(copy):
    assert LifeSign.objects.filter(name=LifeSign.COPY).exists()


def test_rows_that_do_not_come_back_are_noticed(copy, settings):
    with (
        mock.patch.object(copies.databases, "counts", return_value={}),
        pytest.raises(CopyError, match="Not all rows"),
    ):
        put_back(copy, key=settings.BACKUP_KEY)
