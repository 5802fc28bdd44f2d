"""Files as other programs write them."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from tests.sheets.books import SHEET, ods, only, repacked, xlsx


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (5, "5"),
        (5.0, "5"),
        (1.25, "1.25"),
        (True, "yes"),
        (date(2027, 5, 15), "2027-05-15"),
        (datetime(2027, 5, 15, 13, 30), "2027-05-15 13:30"),
        (timedelta(hours=30, minutes=30), "30h30"),
        (time(2, 30), "02:30"),
        ("  Sand  ", "Sand"),
    ],
)
def test_a_cell_reads_as_somebody_would_type_it(value, words):
    assert only(xlsx(("Job",), (value,))).rows[1] == (words,)


def test_empty_rows_and_columns_keep_their_numbers():
    def far(sheet):
        sheet["C4"] = "here"

    table = only(xlsx(change=far))
    assert table.rows[3] == ("", "", "here")
    assert table.rows[0] == ("", "", "")


@pytest.mark.parametrize("wrong", [b"A1:A1", b"A1:B2", b"A1:XFD1048576"])
def test_a_wrong_dimension_tag_loses_no_row(wrong):
    rows = [("Job", "Likely"), *((f"Job {n}", n) for n in range(300))]
    whole = xlsx(*rows)

    def lie(part: bytes) -> bytes:
        assert b'<dimension ref="A1:B301"' in part
        return part.replace(b"A1:B301", wrong)

    assert only(repacked(whole, **{SHEET: lie})).rows == only(whole).rows
    assert len(only(whole).rows) == 301


def test_merged_cells_count_for_every_row_they_cover():
    def merge(sheet):
        sheet.merge_cells("A2:A4")

    table = only(xlsx(("Car", "Job"), ("Van", "a"), ("", "b"), ("", "c"), change=merge))
    assert [row[0] for row in table.rows] == ["Car", "Van", "Van", "Van"]


def test_a_sum_that_was_never_worked_out_is_named():
    table = only(xlsx(("Job", "Likely"), ("Sand", "=1+1")))
    assert table.rows[1] == ("Sand", "")
    assert table.unread == ((2, 2),)


def test_a_sum_with_its_result_reads_as_the_result():
    def worked_out(part: bytes) -> bytes:
        assert b"<v />" in part or b"<v></v>" in part or b"<v/>" in part
        for empty in (b"<v />", b"<v></v>", b"<v/>"):
            part = part.replace(empty, b"<v>2</v>")
        return part

    table = only(repacked(xlsx(("Likely",), ("=1+1",)), **{SHEET: worked_out}))
    assert table.rows[1] == ("2",)
    assert table.unread == ()


def test_a_fault_in_a_cell_is_named():
    def fault(sheet):
        sheet["A2"] = "#REF!"
        sheet["A2"].data_type = "e"

    assert only(xlsx(("Job",), change=fault)).unread == ((2, 1),)


def test_days_of_the_other_epoch_are_the_same_days():
    """ECMA-376 part 1, 18.17.4.1: a workbook may count days from 1904."""

    def old_mac(sheet):
        sheet.parent.epoch = CALENDAR_MAC_1904
        sheet["A2"] = datetime(2027, 5, 15)

    assert only(xlsx(("Day",), change=old_mac)).rows[1] == ("2027-05-15",)


def test_an_open_document_sheet():
    table = only(ods(("Job", "Likely"), ("", ""), ("Sand", "2h30")), "jobs.ods")
    assert table.rows == (("Job", "Likely"), ("", ""), ("Sand", "2h30"))


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_text_files_of_all_sorts(encoding, separator):
    text = f'Job{separator}Note\r\n"Café ""door"""{separator}été\r\n'
    table = only(text.encode(encoding), "jobs.csv")
    assert table.rows == (("Job", "Note"), ('Café "door"', "été"))


def test_commas_within_semicolons_stay():
    text = "Job;Likely\nSand, fill;1,5\nPrime, again;2\n"
    assert only(text.encode(), "a.csv").rows[1] == ("Sand, fill", "1,5")


def test_a_workbook_under_a_false_name_is_read_as_what_it_is():
    assert only(xlsx(("Job",), ("Sand",)), "jobs.csv").rows[1] == ("Sand",)


def test_text_under_a_workbooks_name_is_read_as_text():
    assert only(b"Job\nSand\n", "jobs.xlsx").rows[1] == ("Sand",)


def test_a_cell_that_would_start_a_program_is_only_words():
    table = only(b"Job\n=cmd|' /C calc'!A0\n", "a.csv")
    assert table.rows[1] == ("=cmd|' /C calc'!A0",)
