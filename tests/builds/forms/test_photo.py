"""Pictures of all sorts: a new picture comes of them, or words, never a fault.

OWASP File Upload Cheat Sheet (from memory): decode, write anew, trust no name.
"""

from __future__ import annotations

import warnings
from contextlib import suppress
from io import BytesIO
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from builds.forms import photo
from builds.forms.photo import PhotoField

UPRIGHT, TURNED = 0x0112, 6  # Exif 2.3: orientation; 6 is a quarter turn
HEIC = b"\0\0\0\x18ftypheic\0\0\0\0heicmif1" + b"\0" * 200
SCRIPT = b"\xff\xd8\xff\xe0/*" + b"\0" * 9 + b"*/=alert(1);/*" + b"\xff\xd9"


def picture(
    kind: str, mode: str = "RGB", size: tuple[int, int] = (40, 30), **more: Any
) -> bytes:
    out = BytesIO()
    Image.new(mode, size).save(out, kind, **more)
    return out.getvalue()


def turned() -> bytes:
    exif = Image.Exif()
    exif[UPRIGHT] = TURNED
    exif[0x010F] = "A telephone"
    exif.get_ifd(0x8825)[1] = "N"  # where it was taken
    return exif.tobytes()


def taken(data: bytes, name: str = "photo.jpg") -> Image.Image:
    cleaned = PhotoField().clean(SimpleUploadedFile(name, data))
    return Image.open(BytesIO(cleaned.read()))


def refused(data: bytes) -> str:
    with pytest.raises(ValidationError) as error:
        taken(data)
    return " ".join(error.value.messages)


def taken_or_refused(data: bytes) -> None:
    """Pass if there is a picture or words; any other error is a fault of ours."""
    with warnings.catch_warnings(), suppress(ValidationError):
        warnings.simplefilter("ignore")  # Pillow speaks of damaged facts
        taken(data).close()


@pytest.mark.parametrize(
    "data",
    [
        picture("JPEG", "CMYK"),
        picture("JPEG", "L"),
        picture("PNG", "I;16"),
        picture("PNG", "P"),
        picture("PNG", "LA"),
        picture("PNG", "1"),
        picture("WEBP", "RGBA"),
    ],
    ids=["four inks", "grey", "16 bits", "palette", "clear", "1 bit", "webp"],
)
def test_whatever_a_camera_makes_becomes_a_plain_jpeg(data):
    with taken(data) as kept:
        assert (kept.format, kept.mode, kept.size) == ("JPEG", "RGB", (40, 30))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_turned_picture_is_turned_and_says_no_more_where_it_was_taken(kind):
    with taken(picture(kind, exif=turned())) as kept:
        assert kept.size == (30, 40)
        assert not dict(kept.getexif())


def test_what_is_hidden_behind_a_picture_is_gone():
    two = picture("JPEG") + b"<script>alert(1)</script>"
    cleaned = PhotoField().clean(SimpleUploadedFile("x.jpg", two))
    assert b"script" not in cleaned.read()


@pytest.mark.parametrize(
    "data",
    [
        HEIC,
        SCRIPT,
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>",
        b"<!doctype html><title>x</title>",
        picture("GIF", save_all=True, append_images=[Image.new("RGB", (40, 30))] * 50),
        picture("TIFF"),
        picture("BMP"),
        picture("JPEG")[:300],
    ],
    ids=["heic", "script", "svg", "html", "gif", "tiff", "bmp", "half"],
)
def test_what_is_no_photograph_is_refused_in_words(data):
    assert "JPEG, PNG or WebP" in refused(data)


@pytest.mark.parametrize("side", [8_000, 14_000])
def test_a_small_file_that_unpacks_to_a_huge_picture_is_not_unpacked(side):
    """Beyond Pillow's own limit, and beyond twice that, which it says otherwise."""
    assert "too large" in refused(picture("PNG", "1", (side, side)))


def test_a_file_that_is_too_large_is_not_read(monkeypatch):
    monkeypatch.setattr(photo, "MOST_BYTES", 100)
    assert "too large" in refused(picture("PNG", size=(400, 300)) + b"\0" * 100)


@pytest.mark.parametrize(
    "name", ["../../x.jpg", 'a"b.jpg', "a\nb.jpg", "a\0b.jpg", "💥" * 60 + ".jpg"]
)
def test_what_it_is_called_does_not_matter(name):
    with taken(picture("JPEG"), name) as kept:
        assert kept.format == "JPEG"


SOUND = [picture(kind, exif=turned()) for kind in ("JPEG", "PNG", "WEBP")]


@settings(max_examples=300, deadline=None)
@given(
    data=st.sampled_from(SOUND),
    wrong=st.lists(
        st.tuples(st.integers(0, 400), st.integers(0, 255)), min_size=1, max_size=6
    ),
)
def test_bytes_that_changed_on_the_way_are_no_fault_of_ours(data, wrong):
    broken = bytearray(data)
    for place, byte in wrong:
        broken[place % len(broken)] = byte
    taken_or_refused(bytes(broken))


@pytest.mark.parametrize("sort", [0, 1, 2, 3, 4, 5, 7, 12, 255])
@pytest.mark.parametrize("fact", [b"\x01\x0f\0\x02", b"\0\x01\0\x02"])
def test_facts_of_another_sort_than_they_say_are_no_fault_of_ours(fact, sort):
    """Exif 2.3: a fact is its number, its sort and its value; 2 stands for text."""
    data = bytearray(SOUND[0])
    data[data.index(fact) + 3] = sort
    taken_or_refused(bytes(data))
