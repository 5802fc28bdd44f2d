"""A job: what it is, how long it takes, who does it and when it may."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms

from builds.forms import lengths
from builds.forms.choice import NumberField, RowField, WholeField, WordChoice
from builds.forms.going import GoingFields
from builds.forms.job_sections import SECTIONS
from builds.forms.record import Data, VersionedForm
from builds.forms.text import LONGEST_WORD, LinesField, TextField
from builds.forms.typed import DayField, DurationField, MomentField
from builds.models import Found, Job, Kind, Person, Vendor
from builds.selectors.job_form import JobChoices

KINDS = [
    (Kind.BENCH, "Bench: hands, in house"),
    (Kind.OUTSIDE, "Outside: at a vendor"),
    (Kind.ORDER, "Order: a part on its way"),
    (Kind.DECISION, "Decision: the customer’s"),
    (Kind.STAND, "Stand: cure, dry or settle; nobody works"),
    (Kind.CHECK, "Check: trial fit, inspection, sign-off"),
    (Kind.MARK, "Mark: a moment, takes no time"),
]
FOUND = [("", "No, it was in the quote"), *((one.value, one.label) for one in Found)]
TRADE_LEVELS = [
    ("", "works alone"),
    ("1", "1: beside someone"),
    ("2", "2: works alone"),
    ("3", "3: signs off"),
]
LENGTHS = ("low", "likely", "high")


def _flag(label: str, hint: str = "") -> forms.BooleanField:
    return forms.BooleanField(label=label, help_text=hint, required=False)


def _named(row: Person | Vendor) -> str:
    return f"{row}, left out" if row.left_out else str(row)


class JobForm(GoingFields):
    """A new job."""

    SECTIONS = SECTIONS
    ROW: ClassVar[tuple[str, ...]] = (
        "title", "kind", "low", "likely", "high", "fixed", "trade", "trade_level",
        "people", "person", "level", "phase", "area", "vendor", "slot", "pieces",
        "commitment", "unbroken", "safety", "not_before", "needed_by",
        "rework_chance", "found", "snag", "note",
        "process", "colour", "alloy", "kilos", "visible", "value",
    )  # fmt: skip

    title = TextField(label="What is to be done")
    kind = forms.ChoiceField(label="Kind of job", choices=KINDS, initial=Kind.BENCH)
    low = DurationField(label="One time in ten it is quicker", required=False)
    likely = DurationField(label="What it most likely takes", required=False)
    high = DurationField(label="One time in ten it is longer", required=False)
    fixed = _flag("It takes exactly the likely time")
    trade = WordChoice(label="Trade", nothing="anybody", required=False)
    trade_level = forms.TypedChoiceField(
        label="At least",
        choices=TRADE_LEVELS,
        coerce=int,
        empty_value=None,
        required=False,
    )
    people = WholeField(
        label="People together", least=1, most=100, initial=1, required=True
    )
    person = RowField(label="Who", nothing="anybody who may", required=False)
    level = WordChoice(label="Needed to be", nothing="the top level", required=False)
    phase = TextField(
        label="Phase",
        longest=LONGEST_WORD,
        required=False,
        widget=forms.TextInput(attrs={"list": "phases"}),
    )
    area = TextField(
        label="Part of the car",
        longest=LONGEST_WORD,
        required=False,
        widget=forms.TextInput(attrs={"list": "areas"}),
    )
    vendor = RowField(label="Vendor", nothing="none", required=False)
    slot = forms.BooleanField(
        label="Needs one of the vendor’s slots", required=False, initial=True
    )
    pieces = WholeField(label="Pieces", required=False)
    commitment = _flag(
        "It cannot be undone",
        "Cut, weld, paint, plate: it starts only when every check before it is passed.",
    )
    unbroken = _flag("It may not pause over a closed day")
    safety = _flag("A safety job", "It is never left out.")
    not_before = MomentField(label="Not before", default=None, required=False)
    needed_by = DayField(label="Wanted by", required=False)
    rework_chance = NumberField(
        label="Does not pass, times in 100", most=100, required=False
    )
    found = forms.ChoiceField(label="Found work", choices=FOUND, required=False)
    snag = _flag("A fault found in checking")
    note = LinesField(label="Note", required=False)

    def __init__(
        self, data: Data = None, *, choices: JobChoices, initial: Any = None
    ) -> None:
        super().__init__(data, now=choices.now, initial=initial)
        self.suggestions = {"areas": choices.areas, "phases": choices.phases}
        for name, rows in (("person", choices.people), ("vendor", choices.vendors)):
            row_field = self.fields[name]
            assert isinstance(row_field, RowField)
            row_field.offer(rows, _named)
        for name, words in (("trade", choices.trades), ("level", choices.levels)):
            word_field = self.fields[name]
            assert isinstance(word_field, WordChoice)
            word_field.offer(words)
        self._tell_lengths_the_kind(choices.day_hours)

    def _tell_lengths_the_kind(self, day_hours: float) -> None:
        kind = self["kind"].value()
        self.chosen_kind = kind if kind in Kind.values else Kind.BENCH
        for name in LENGTHS:
            field = self.fields[name]
            assert isinstance(field, DurationField)
            field.kind, field.day_hours = self.chosen_kind, day_hours
        self.day_hours = day_hours
        self.unit = lengths.unit_words(self.chosen_kind)

    def clean(self) -> dict[str, Any]:
        """Turn lengths into the unit of the kind, and hundredths into a chance."""
        cleaned = super().clean() or self.cleaned_data
        for name in LENGTHS:
            if isinstance(cleaned.get(name), lengths.Length):
                self._convert(cleaned, name)
        cleaned["rework_chance"] = (cleaned.get("rework_chance") or 0.0) / 100
        if self.chosen_kind == Kind.MARK:
            cleaned.update(dict.fromkeys(LENGTHS, None), fixed=False)
        elif cleaned.get("likely") is None and "likely" not in self.errors:
            self.add_error("likely", "Write the likely length, as in “2h30” or “3”.")
        if self.chosen_kind == Kind.OUTSIDE and not cleaned.get("vendor"):
            self.add_error("vendor", "Choose the vendor this goes to.")
        self._check_order(cleaned)
        return cleaned

    def _convert(self, cleaned: dict[str, Any], name: str) -> None:
        try:
            cleaned[name] = cleaned[name].for_kind(self.chosen_kind, self.day_hours)
        except ValueError as error:
            self.add_error(name, str(error))

    def _check_order(self, cleaned: dict[str, Any]) -> None:
        low, likely, high = (cleaned.get(name) for name in LENGTHS)
        if likely is None or cleaned.get("fixed"):
            return
        if (low is None) != (high is None) and not {"low", "high"} & set(self.errors):
            missing = "low" if low is None else "high"
            self.add_error(missing, "Write both, the quicker and the longer, or none.")
        if low is not None and low > likely:
            self.add_error("low", "This is more than the likely length.")
        if high is not None and high < likely:
            self.add_error("high", "This is less than the likely length.")

    @classmethod
    def facts_of(cls, row: Job) -> dict[str, Any]:
        """Give what the job holds, written as somebody would type it."""
        facts = super().facts_of(row)
        for name in LENGTHS:
            facts[name] = lengths.type_length(facts[name], row.kind)
        facts["rework_chance"] = row.rework_chance * 100
        return facts


class JobEditForm(VersionedForm, JobForm):
    """A job there is already; only what is typed anew is changed."""

    def changed_names(self) -> set[str]:
        """Give what was changed; lengths go with the kind, which is their unit."""
        changed = super().changed_names()
        return changed | {*LENGTHS, "fixed"} if "kind" in changed else changed

    @classmethod
    def facts_of(cls, row: Job) -> dict[str, Any]:
        """Give what the job holds, and its version."""
        return super().facts_of(row) | {"version": row.version}
