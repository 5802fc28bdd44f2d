"""Files written to do harm, and files that are something else.

Limits: OWASP File Upload Cheat Sheet and ASVS 5.0, 5.2.1 to 5.2.3 (size, unpacked
size and number of parts checked before a file is opened), from memory.
"""

from __future__ import annotations

import io
import random
import resource
import struct
import subprocess
import sys
import tempfile
import zipfile

import pytest

from sheets import child
from sheets.reading import LARGEST, read_tables
from sheets.table import Unreadable
from tests.sheets.books import SHEET, no_end, only, repacked, xlsx


def refused(data: bytes, name: str = "jobs.xlsx") -> str:
    with pytest.raises(Unreadable) as error:
        read_tables(data, name)
    return error.value.words


def test_too_large_a_file():
    assert "5 MB" in refused(b"a" * (LARGEST + 1), "a.csv")


@pytest.mark.parametrize("data", [b"", b"   \n", b"\xef\xbb\xbf", b"\r\n\r\n"])
def test_nothing_in_it(data):
    assert refused(data, "a.csv") == "There is nothing in this file."


def test_a_hundred_thousand_rows():
    text = "Job\n" + "Sand\n" * 100_000
    assert "100,001 rows" in refused(text.encode(), "a.csv")


def test_sixteen_thousand_columns():
    assert "16,384 columns" in refused(b"x," * 16_383 + b"x\n", "a.csv")


@pytest.mark.parametrize("bomb", [b",", b"\n", b",\n"])
def test_five_megabytes_of_nothing_take_no_room_here(bomb):
    """A cell costs far more than a byte: the reader must not be the web process."""
    data = b"Job\nSand" + bomb * (LARGEST // len(bomb) - 8)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert only(data, "a.csv").rows == (("Job",), ("Sand",))
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    assert grown < 60 * 1024  # kilobytes: the file itself, and what is piped


@pytest.mark.parametrize("bomb", [b"x,", b"x\n", b'"x",'])
def test_five_megabytes_of_single_letters_are_too_much(bomb):
    assert "The most that is taken" in refused(bomb * (LARGEST // len(bomb)), "a.csv")


def test_one_long_text_in_every_cell_is_too_much():
    """A shared string stands once in the file and in a hundred thousand cells."""
    main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
    word = random.Random(1).randbytes(10_000).hex()
    words = f"<sst {main}><si><t>Job</t></si><si><t>{word}</t></si></sst>"
    cells = "".join(
        f'<row r="{n}"><c r="A{n}" t="s"><v>{int(n > 1)}</v></c></row>'
        for n in range(1, 400)
    )
    sheet = f"<worksheet {main}><sheetData>{cells}</sheetData></worksheet>"
    parts = {"xl__sharedStrings.xml": words.encode(), SHEET: sheet.encode()}
    assert "5,000,000 letters" in refused(repacked(xlsx(("Job",)), **parts))


def test_a_reader_that_never_ends_is_stopped(monkeypatch):
    monkeypatch.setattr("sheets.reading.SECONDS", -4.99)
    assert "took too long" in refused(xlsx(("Job",)))


def test_a_reader_has_no_more_room_than_it_is_given():
    """The limits are the system's own: asked of a process that has set them."""
    told = "import sheets.child, resource; sheets.child.limit();"
    for what, most in (("AS", child.MEMORY), ("CPU", child.SECONDS)):
        ask = f"{told} print(resource.getrlimit(resource.RLIMIT_{what}))"
        done = subprocess.run(
            [sys.executable, "-c", ask], capture_output=True, text=True, check=True
        )
        assert done.stdout.strip() == str((most, most))
    greedy = f"{told} bytearray({child.MEMORY})"
    done = subprocess.run([sys.executable, "-c", greedy], capture_output=True)
    assert b"MemoryError" in done.stderr


def test_an_answer_without_an_end_is_cut_off():
    talk = "import sheets.child, sys; sheets.child.limit();"
    talk += "[sys.stdout.buffer.write(bytes(1 << 20)) for _ in range(80)]"
    with tempfile.TemporaryFile() as out:
        done = subprocess.run(
            [sys.executable, "-c", talk], stdout=out, stderr=subprocess.DEVNULL
        )
        assert done.returncode
        assert out.tell() <= child.ANSWER


@pytest.mark.parametrize("name", ["a\0b.csv", "../../etc/x", "-c.csv", "\n", "💥" * 99])
def test_what_a_file_is_called_does_nothing(name):
    (table,) = read_tables(b"Job\nSand\n", name)
    assert table.rows == (("Job",), ("Sand",))


@pytest.mark.parametrize("cell", ["XFD1", "A1048576", "XFD1048576"])
def test_one_cell_far_away_takes_no_room(cell):
    def far(sheet):
        sheet[cell] = "x"

    assert "reaches to row" in refused(xlsx(("Job",), change=far))


def test_a_far_cell_whose_place_is_hidden_takes_the_reader_down_and_no_more():
    """Repeated cells of OpenDocument can stand for any number of cells."""
    assert refused(no_end(), "a.ods")


def test_a_zip_bomb_is_not_opened():
    bomb = repacked(xlsx(("Job",)), xl__media__a=b"\0" * (20 * 1024 * 1024))
    assert "unpacks to far more" in refused(bomb)


def test_many_parts_that_are_too_much_together():
    noise = random.Random(1).randbytes(60_000) * 10
    parts = {f"xl__m{n}": noise for n in range(100)}
    bomb = repacked(xlsx(("Job",)), **parts)
    if len(bomb) <= LARGEST:
        assert "unpacks to far more" in refused(bomb)
    else:
        assert "5 MB" in refused(bomb)


def test_a_list_of_contents_that_lies_about_sizes():
    bomb = bytearray(repacked(xlsx(("Job",)), xl__media__a=b"\0" * (60 << 20)))
    large = struct.pack("<I", 60 << 20)
    assert bomb.count(large) >= 1
    assert "unpacks to far more" in refused(bytes(bomb.replace(large, b"\1\0\0\0")))


def test_too_many_parts():
    crowd = {f"xl__{n}": b"x" for n in range(300)}
    assert "parts" in refused(repacked(xlsx(("Job",)), **crowd))


def test_a_workbook_within_a_workbook_stays_shut():
    inner = xlsx(("Secret",))
    assert only(repacked(xlsx(("Job",)), xl__media__inner=inner)).rows == (("Job",),)


def test_macros_are_not_taken():
    book = repacked(xlsx(("Job",)), **{"xl__vbaProject.bin": b"x"})
    assert "macros" in refused(book)


def test_asvs_1_5_1_an_external_entity_is_not_fetched(tmp_path):
    secret = tmp_path / "secret"
    secret.write_text("the password")
    entity = f'<!DOCTYPE a [<!ENTITY x SYSTEM "file://{secret}">]>'.encode()

    def evil(part: bytes) -> bytes:
        mark = b"<worksheet"
        return part.replace(mark, entity + mark, 1).replace(b"Job", b"&x;")

    assert "damaged" in refused(repacked(xlsx(("Job",)), **{SHEET: evil}))


@pytest.mark.parametrize(
    "data",
    [
        b"PK\x03\x04",
        b"PK\x03\x04" + b"x" * 500,
        b"\xd0\xcf\x11\xe0" + b"\0" * 600,
        b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0",
        b"%PDF-1.7\n\0\0\xff",
    ],
)
def test_what_is_no_spreadsheet(data):
    assert refused(data)


def test_a_half_sent_workbook():
    book = xlsx(("Job",), ("Sand",))
    assert "damaged" in refused(book[: len(book) // 2])


def test_a_zip_that_is_no_workbook():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("letter.txt", "Dear sir")
    assert "Only .xlsx" in refused(out.getvalue())


def test_a_locked_part():
    book = bytearray(xlsx(("Job",)))
    for mark, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        place = book.find(mark)
        while place >= 0:
            book[place + at] |= 1
            place = book.find(mark, place + 4)
    assert "password" in refused(bytes(book))
