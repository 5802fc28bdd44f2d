"""A handed-in sheet, read against the plan: what it asks for and what is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from builds.actions.sheet_rows import RowAsked
from builds.forms.sheet_firm import (
    PersonRowForm,
    VendorRowForm,
    read_people,
    read_vendors,
)
from builds.forms.sheet_jobs import JobRowForm
from builds.forms.sheet_links import links_of, read_links, read_places, uses_of
from builds.forms.sheet_reader import (
    Reader,
    Row,
    Said,
    cells_said,
    differences,
    named_or_added,
)
from builds.forms.text import LONGEST_WORD
from builds.models import Build, Job, Person, Place, SheetFile, Vendor
from builds.selectors.job_form import job_choices
from builds.selectors.people import calendars
from builds.selectors.sheet_cells import job_cells, read_known
from sheets.columns import SORTS
from sheets.guess import guess_columns, guess_heading_row, guess_sort
from sheets.table import Table

ANOTHER_CARS = "“{0}” is the id of “{1}” in another car. Leave the id empty."
NO_TITLE = "What is to be done? Write the job."


@dataclass(frozen=True, slots=True)
class Met:
    """A row of jobs with the job and the car it is about."""

    said: Said
    row: Row
    job: Job
    build: Build | None
    new: bool


def sheets_of(file: SheetFile) -> list[Said | None]:
    """Give what each sheet of a file holds, as said or else as guessed."""
    return [
        _said(table_at(file, at), file.said.get(str(at), {}))
        for at in range(len(file.tables))
    ]


def table_at(file: SheetFile, at: int) -> Table:
    """Give one of a file's tables."""
    name, rows, unread = file.tables[at]
    return Table(name, tuple(map(tuple, rows)), tuple(map(tuple, unread)))


def _said(table: Table, words: Mapping[str, Any]) -> Said | None:
    sort = SORTS.get(words.get("sort", guess_sort(table)))
    if sort is None:
        return None
    heading = words.get("heading") or guess_heading_row(table, sort)
    columns: Mapping[Any, str] = words.get("columns", {})
    if words.get("columns") is None:
        columns = guess_columns(table.rows[heading - 1], sort)
    known = {one.name for one in sort.columns}
    kept = {int(at): name for at, name in columns.items() if name in known}
    width = len(table.rows[0])
    kept = {at: name for at, name in kept.items() if 0 <= at < width}
    return Said(table, sort, heading, kept, words.get("car", ""))


def read_asked(said: list[Said | None]) -> Reader:
    """Read all sheets: people and vendors first, as jobs name them."""
    choices = job_choices()
    reader = Reader(read_known(), choices.now.date())
    weeks = list(calendars())
    for one in said:
        if one and one.sort.name == "people":
            read_people(reader, one, PersonRowForm({}, calendars=weeks))
    for one in said:
        if one and one.sort.name == "vendors":
            form = VendorRowForm({}, calendars=weeks, now=choices.now)
            read_vendors(reader, one, form)
    jobs = [one for one in said if one and one.sort.name == "jobs"]
    form_of_jobs = JobRowForm(choices=choices)
    # Two rounds: a job may wait for one that stands further down.
    for met in [met for one in jobs for met in _jobs(reader, one)]:
        _read_job(reader, met, form_of_jobs)
    return reader


def _jobs(reader: Reader, said: Said) -> list[Met]:
    found = []
    for row in reader.rows(said):
        met = _job_of(reader, said, row)
        if met is not None and reader.place(said, row, met.job.key):
            found.append(met)
    return found


def _job_of(reader: Reader, said: Said, row: Row) -> Met | None:
    names, key = reader.known.jobs, row.cells.get("id", "")
    title = row.cells.get("title", "")
    known = names.rows.get(key) if key else None
    build = _build_of(reader, said, row, known)
    if known is not None:
        if title and known.title != title and known.build != build:
            reader.wrong(said, row, "id", ANOTHER_CARS.format(key, known))
            return None
        return Met(said, row, known, build, new=False)
    if not title:
        reader.wrong(said, row, "title", NO_TITLE)
        return None
    twin = None if key else names.twin(title, build.key if build else "")
    if twin is not None and ("jobs", twin.key) not in reader.stands:
        return Met(said, row, twin, build, new=False)
    if len(key) > LONGEST_WORD:
        reader.wrong(said, row, "id", "Write no more than 100 letters.")
        return None
    job = names.add(Job(key=key or names.new_key(title), title=title, build=build))
    return Met(said, row, job, build, new=True)


def _build_of(reader: Reader, said: Said, row: Row, known: Job | None) -> Build | None:
    words = row.cells.get("build", "")
    if known is not None and "build" not in row.cells:
        return known.build
    cars, added = reader.known.builds, reader.asked.builds
    try:
        return named_or_added(cars, Build, added, words or said.car)
    except ValueError as error:
        reader.wrong(said, row, "build", str(error))
        return None


def _read_job(reader: Reader, met: Met, form: JobRowForm) -> None:
    said, row, job, new = met.said, met.row, met.job, met.new
    old = {} if new else job_cells(job, reader.known)
    cells = old | {name: cell for name, cell in row.cells.items() if name != "id"}
    if not new and cells == old:
        return
    # An empty cell says nothing about how far a job has got.
    cells["state"] = cells.get("state") or old.get("state", "")
    asked = RowAsked(job, new, said=cells_said(said, row, old))
    person = _named(reader, said, row, cells, "person")
    vendor = _named(reader, said, row, cells, "vendor")
    if form.take(cells | {"person": "", "vendor": vendor.key if vendor else ""}):
        facts = form.fields_of_row()
        facts |= {"person": person, "vendor": vendor, "build": met.build}
        asked.fields = facts if new else differences(job, facts)
    reader.form_errors(said, row, form)
    _hang_on(reader, said, row, asked, cells, old)
    if new or asked.fields or asked.links is not None or asked.places is not None:
        reader.asked.jobs.append(asked)


def _named(
    reader: Reader, said: Said, row: Row, cells: Mapping[str, str], name: str
) -> Any:
    known, asked = reader.known, reader.asked
    try:
        if name == "person":
            people, added = known.people, asked.named_people
            return named_or_added(people, Person, added, cells.get(name, ""))
        firms = asked.named_vendors
        return named_or_added(known.vendors, Vendor, firms, cells.get(name, ""))
    except ValueError as error:
        reader.wrong(said, row, name, str(error))
        return None


def _hang_on(
    reader: Reader,
    said: Said,
    row: Row,
    asked: RowAsked,
    cells: Mapping[str, str],
    old: Mapping[str, str],
) -> None:
    job, known = asked.row, reader.known
    assert isinstance(job, Job)
    if cells.get("after", "") != old.get("after", ""):
        links = reader.read(
            said, row, "after", lambda cell: read_links(cell, job, known)
        )
        if links is not None and links != ([] if asked.new else links_of(job)):
            asked.links = links
    if cells.get("places", "") != old.get("places", ""):
        named = reader.read(said, row, "places", read_places) or []
        places = [
            (place, uses)
            for place, uses in (
                (_place(reader, said, row, name), uses) for name, uses in named
            )
            if place is not None
        ]
        if places != ([] if asked.new else uses_of(job)):
            asked.places = places


def _place(reader: Reader, said: Said, row: Row, name: str) -> Place | None:
    added = reader.asked.places
    try:
        return named_or_added(reader.known.places, Place, added, name)
    except ValueError as error:
        reader.wrong(said, row, "places", str(error))
        return None
