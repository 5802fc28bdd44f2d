"""Nothing that leaves is worked out by whoever opens it (ASVS 5.0, 1.2.10)."""

from __future__ import annotations

import csv
import io

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheets.files import read_file
from sheets.reading import read_tables
from sheets.writing import write_csv, write_xlsx

WORDS = st.text(
    st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=20
).map(str.strip)


@pytest.mark.parametrize("lead", list("=+-@\t\r\0"))
def test_csv_marks_what_could_be_worked_out(lead):
    text = write_csv([[f"{lead}cmd|' /C calc'!A0"]]).decode("utf-8-sig")
    (row,) = csv.reader(io.StringIO(text, newline=""))
    assert row[0].startswith("'")


def test_xlsx_types_every_cell_as_text():
    book = openpyxl.load_workbook(
        io.BytesIO(write_xlsx([("Jobs", [["Job"], ["=1+1"], ["+5"], ["007"]])]))
    )
    cells = [cell for row in book["Jobs"].iter_rows() for cell in row]
    assert [cell.value for cell in cells] == ["Job", "=1+1", "+5", "007"]
    assert {cell.data_type for cell in cells} == {"s"}


@given(st.lists(st.tuples(WORDS, WORDS), min_size=1, max_size=5))
def test_csv_out_and_in_again_is_the_same(rows):
    table = [["Job", "Note"], *map(list, rows)]
    (back,) = read_file(write_csv(table), "a.csv")
    kept = [tuple(row) for row in table]
    while not any(kept[-1]):
        kept.pop()
    assert list(back.rows) == kept


def test_xlsx_out_and_in_again_is_the_same():
    rows = [["Job", "Note"], ["'=x", "-1"], ["été ½ 日本", "two\nlines"], ["", "x"]]
    (back,) = read_tables(write_xlsx([("Jobs", rows)]), "a.xlsx")
    assert [list(row) for row in back.rows] == rows
