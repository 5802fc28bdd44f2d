"""Rows of a sheet as people and as vendors: the rules of their own forms."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from builds.actions.sheet_rows import RowAsked
from builds.forms.choice import RowField
from builds.forms.people import PersonForm
from builds.forms.record import RecordForm
from builds.forms.sheet_fields import YesNoField, read_spans, read_trades
from builds.forms.sheet_reader import Reader, Row, Said, cells_said, differences
from builds.forms.vendors import VendorForm
from builds.models import Person, Vendor
from builds.selectors.sheet_cells import person_cells, vendor_cells
from builds.selectors.sheet_names import Names, fold


class PersonRowForm(PersonForm):
    """One form for all rows of people."""

    ROW = (*PersonForm.ROW, "left_out")
    left_out = YesNoField()


class VendorRowForm(VendorForm):
    """One form for all rows of vendors."""

    ROW = (*VendorForm.ROW, "left_out")
    left_out = YesNoField()


def read_people(reader: Reader, said: Said, form: PersonRowForm) -> None:
    """Read every person of a sheet."""
    for row in reader.rows(said):
        person, new = _row_of(reader, said, row, reader.known.people, Person)
        if person is None:
            continue
        old = {} if new else person_cells(person)
        cells = old | {n: c for n, c in row.cells.items() if n != "id"}
        if not new and cells == old:
            continue
        asked = RowAsked(person, new, _facts(reader, said, row, form, cells))
        asked.said = cells_said(said, row, old)
        if cells.get("trades", "") != old.get("trades", ""):
            asked.trades = reader.read(said, row, "trades", read_trades) or []
        if cells.get("away", "") != old.get("away", ""):
            asked.spans = _spans(reader, said, row, "away")
        _take(asked, new, reader.asked.people)


def read_vendors(reader: Reader, said: Said, form: VendorRowForm) -> None:
    """Read every vendor of a sheet."""
    for row in reader.rows(said):
        vendor, new = _row_of(reader, said, row, reader.known.vendors, Vendor)
        if vendor is None:
            continue
        old = {} if new else vendor_cells(vendor)
        cells = old | {n: c for n, c in row.cells.items() if n != "id"}
        if not new and cells == old:
            continue
        asked = RowAsked(vendor, new, _facts(reader, said, row, form, cells))
        asked.said = cells_said(said, row, old)
        if cells.get("closed", "") != old.get("closed", ""):
            asked.spans = _spans(reader, said, row, "closed")
        _take(asked, new, reader.asked.vendors)


def _row_of(
    reader: Reader, said: Said, row: Row, names: Names[Any], model: type[Any]
) -> tuple[Any, bool]:
    """Give the row meant, or a new one; None where that cannot be told."""
    key, name = row.cells.get("id", ""), row.cells.get("name", "")
    try:
        found = names.rows.get(key) if key else names.find(name) if name else None
    except ValueError as error:
        reader.wrong(said, row, "name", str(error))
        return None, False
    if found is None and not name:
        reader.wrong(said, row, "name", "Who is this? Write a name.")
        return None, False
    if found is not None:
        return (found, False) if reader.place(said, row, found.key) else (None, False)
    if len(key) > 100:
        reader.wrong(said, row, "id", "Write no more than 100 letters.")
        return None, False
    made = names.add(model(key=key or names.new_key(name), name=name))
    reader.place(said, row, made.key)
    return made, True


def _facts(
    reader: Reader, said: Said, row: Row, form: RecordForm, cells: dict[str, str]
) -> dict[str, Any]:
    data: dict[str, Any] = dict(cells)
    weeks = {fold(key): key for key in _weeks(form)}
    data["calendar"] = weeks.get(fold(cells.get("calendar", "")), cells.get("calendar"))
    form.data = data
    form.full_clean()
    reader.form_errors(said, row, form)
    return {} if form.errors else form.fields_of_row()


def _weeks(form: RecordForm) -> Iterable[str]:
    field = form.fields["calendar"]
    assert isinstance(field, RowField)
    return field.rows


def _spans(reader: Reader, said: Said, row: Row, name: str) -> list[Any]:
    today = reader.today
    return reader.read(said, row, name, lambda cell: read_spans(cell, today)) or []


def _take(asked: RowAsked, new: bool, rows: list[RowAsked]) -> None:
    if not new:
        asked.fields = differences(asked.row, asked.fields)
        kept = _kept(asked.row)
        asked.trades = None if asked.trades == kept[0] else asked.trades
        asked.spans = None if asked.spans == kept[1] else asked.spans
    if new or asked.fields or asked.trades is not None or asked.spans is not None:
        rows.append(asked)


def _kept(row: Any) -> tuple[list[Any], list[Any]]:
    """Give the trades and the days away or shut that a row has now."""
    if isinstance(row, Person):
        trades = [(one.trade, one.level, one.pace) for one in row.trades.all()]
        return trades, [(one.first, one.last) for one in row.away.all()]
    return [], [(one.first, one.last) for one in row.closed.all()]
