"""A spreadsheet handed in, and what its sheets and columns hold."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.forms.choice import RowField
from builds.forms.exchange import MESSAGES
from builds.forms.record import RecordForm, Section
from builds.forms.sheet_plan import sheets_of, table_at
from builds.forms.sheet_reader import Said
from builds.models import Build, SheetFile
from sheets.columns import SORTS
from sheets.guess import guess_columns
from sheets.reading import LARGEST, TOO_LARGE, read_tables
from sheets.table import Table, Unreadable

KINDS = [("", "nothing for the plan"), *((n, s.heading) for n, s in SORTS.items())]
MESSAGES = dict.fromkeys(MESSAGES, "Choose a spreadsheet first.") | {
    "empty": MESSAGES["empty"]
}


class SheetFileForm(RecordForm):
    """The file."""

    SECTIONS = (Section("", (("file",),)),)

    file = forms.FileField(
        label="Spreadsheet",
        help_text="XLSX, ODS or CSV, 5 MB and 5,000 rows at most.",
        error_messages=MESSAGES,
        widget=forms.FileInput(attrs={"accept": ".xlsx,.ods,.csv,.txt"}),
    )

    def clean_file(self) -> Any:
        """Read it, or say why it cannot be read."""
        file = self.cleaned_data["file"]
        if file.size > LARGEST:
            megabytes = file.size / 1024 / 1024
            raise forms.ValidationError(TOO_LARGE.format(megabytes))
        try:
            self.tables = read_tables(file.read(), file.name)
        except Unreadable as error:
            raise forms.ValidationError(error.words) from error
        return file

    def rows(self) -> list[Any]:
        """Give the tables as they are kept."""
        return [[one.name, one.rows, one.unread] for one in self.tables]


class SaidForm(RecordForm):
    """What one sheet stands for, where its headings are and what each column means."""

    def __init__(
        self,
        data: Any = None,
        *,
        at: int,
        table: Table,
        said: Said | None,
        cars: list[Build],
    ) -> None:
        super().__init__(data, prefix=f"sheet{at}")
        self.at, self.table, self.said = at, table, said
        self.columns: list[tuple[forms.BoundField, list[str]]] = []
        self.fields["sort"] = forms.ChoiceField(
            label="These rows are",
            choices=KINDS,
            required=False,
            initial=said.sort.name if said else "",
        )
        if said is None:
            return
        rows = [(n, f"row {n}") for n in range(1, min(len(table.rows), 30) + 1)]
        self.fields["heading"] = forms.TypedChoiceField(
            label="Headings are in", choices=rows, coerce=int, initial=said.heading
        )
        if said.sort.name == "jobs":
            self.fields["car"] = RowField(
                label="Where no car is named it is for",
                nothing="no car",
                required=False,
                initial=said.car,
            )
            self.fields["car"].offer(cars)  # type: ignore[attr-defined]
        self._add_columns(said)

    def _add_columns(self, said: Said) -> None:
        meanings = [("", "not taken in")]
        meanings += [(one.name, one.heading) for one in said.sort.columns]
        rows = self.table.rows
        for place, heading in enumerate(rows[said.heading - 1]):
            samples = [row[place] for row in rows[said.heading :] if row[place]]
            name = f"column{place}"
            self.fields[name] = forms.ChoiceField(
                label=heading or f"column {place + 1}, no heading",
                choices=meanings,
                required=False,
                initial=said.columns.get(place, ""),
            )
            self.columns.append((self[name], samples[:3]))

    def words(self) -> dict[str, Any]:
        """Give what was said; headings elsewhere, or another sort, are guessed anew."""
        cleaned = self.cleaned_data
        sort = SORTS.get(cleaned["sort"])
        if sort is None:
            return {"sort": ""}
        if self.said is None or sort != self.said.sort:
            return {"sort": sort.name}
        heading = cleaned["heading"]
        car = cleaned.get("car")
        words = {"sort": sort.name, "heading": heading, "car": car.key if car else ""}
        if heading != self.said.heading:
            columns = guess_columns(self.table.rows[heading - 1], sort)
            return words | {"columns": {str(at): n for at, n in columns.items()}}
        width = len(self.columns)
        named = {str(at): cleaned[f"column{at}"] for at in range(width)}
        return words | {"columns": {at: name for at, name in named.items() if name}}

    def clean(self) -> dict[str, Any]:
        """Refuse two columns with one meaning."""
        cleaned = super().clean() or self.cleaned_data
        seen: dict[str, str] = {}
        for name, meaning in list(cleaned.items()):
            if name.startswith("column") and meaning:
                if meaning in seen:
                    first = self.fields[seen[meaning]].label
                    self.add_error(name, f"“{first}” means that already.")
                seen.setdefault(meaning, name)
        return cleaned


def said_forms(file: SheetFile, data: Any) -> list[SaidForm]:
    """Give a form for each sheet of a file."""
    cars = list(Build.objects.all())
    return [
        SaidForm(data, at=at, table=table_at(file, at), said=said, cars=cars)
        for at, said in enumerate(sheets_of(file))
    ]
