"""Counting in: a form for each job, made of its lines, and one signature."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from django import forms

from builds.actions.counting import Again, Counted, Return, mismatch
from builds.forms.choice import NumberField, WholeField
from builds.forms.photo import PhotoField
from builds.forms.record import RecordForm
from builds.forms.text import LinesField, TextField
from builds.selectors.goods_in import CountLine, JobToCount

SHORT = 200


@dataclass(frozen=True, slots=True)
class LineFields:
    """The fields of one line, for the page."""

    line: CountLine
    good: forms.BoundField
    wrong: tuple[forms.BoundField, ...]
    open: bool


class JobCountForm(RecordForm):
    """What came back of one job."""

    version = WholeField(most=2**31 - 1, widget=forms.HiddenInput())
    noted = WholeField(label="Pieces on their note", required=False)
    accepted = forms.BooleanField(
        label="The good ones are looked over: work may go on with them", required=False
    )
    low = NumberField(label="Quicker, one time in ten", required=False)
    likely = NumberField(label="Most likely, working days", required=False)
    high = NumberField(label="Longer, one time in ten", required=False)
    waits = forms.MultipleChoiceField(
        label="What waits for the ones that are not here, too",
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(
        self, data: Any = None, *, sheet: JobToCount, lead: bool, **settings: Any
    ) -> None:
        self.sheet = sheet
        job = sheet.job
        initial = {name: getattr(job, name) for name in ("low", "likely", "high")}
        initial |= {"version": job.version, "waits": [key for key, _ in sheet.waiting]}
        super().__init__(data, initial=initial, **settings)
        waits = self.fields["waits"]
        assert isinstance(waits, forms.MultipleChoiceField)
        waits.choices = list(sheet.waiting)
        if not sheet.waiting:
            del self.fields["waits"]
        if not lead:
            del self.fields["accepted"]
        for number, line in enumerate(sheet.lines):
            self.fields.update(_line_fields(number, line))

    def lines(self) -> Iterator[LineFields]:
        """Give each line with its fields; those that came short are open."""
        for number, line in enumerate(self.sheet.lines):
            wrong = tuple(
                self[f"{name}_{number}"]
                for name in ("rejected", "missing", "which", "why")
            )
            short = self.is_bound and (
                self._counted(number).good != (line.count or 0)
                or any(one.errors for one in wrong)
            )
            yield LineFields(line, self[f"good_{number}"], wrong, short)

    def range_fields(self) -> list[forms.BoundField]:
        """Give the fields of the step that follows for what is not here."""
        return [self[name] for name in ("low", "likely", "high")]

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        ends = (given.get("low"), given.get("high"))
        if (ends[0] is None) != (ends[1] is None):
            self.add_error("low", "Write both the quicker and the longer, or neither.")
        return given

    def differences(self) -> tuple[str, ...]:
        """Say how the list, their note and the count differ."""
        counted = [self._counted(n) for n in range(len(self.sheet.lines))]
        seen = sum(one.good + one.rejected for one in counted)
        if not any(one.any for one in counted) and self.cleaned_data["noted"] is None:
            return ()
        out = seen if self.sheet.out is None else self.sheet.out
        missing = sum(one.missing for one in counted)
        title = f"“{self.sheet.job}”"
        return mismatch(title, out, seen, self.cleaned_data["noted"], missing)

    def ret(self) -> Return:
        """Give what was counted."""
        given = self.cleaned_data
        waits = given.get("waits")
        return Return(
            job=self.sheet.job,
            counts={
                line.key: self._counted(number)
                for number, line in enumerate(self.sheet.lines)
            },
            noted=given["noted"],
            version=given["version"],
            accepted=given.get("accepted", False),
            again=Again(given["low"], given["likely"], given["high"]),
            waits=None if waits is None else frozenset(waits),
        )

    def _counted(self, number: int) -> Counted:
        given: Mapping[str, Any] = getattr(self, "cleaned_data", {})
        return Counted(
            good=int(given.get(f"good_{number}") or 0),
            rejected=given.get(f"rejected_{number}") or 0,
            missing=given.get(f"missing_{number}") or 0,
            which=given.get(f"which_{number}") or "",
            why=given.get(f"why_{number}") or "",
        )


class SignatureForm(RecordForm):
    """Who signs for it, and what they saw."""

    signed = TextField(label="Signed for by", longest=SHORT)
    place = TextField(label="Put where", longest=SHORT, required=False)
    words = LinesField(
        label="What you saw", required=False, widget=forms.Textarea(attrs={"rows": 2})
    )
    photo = PhotoField(label="A photograph of the box")
    seen = forms.CharField(required=False, widget=forms.HiddenInput())


def word_for(differences: Sequence[str]) -> str:
    """Give the word that shows which differences were on the page."""
    return sha256("\n".join(differences).encode()).hexdigest()[:16]


def _line_fields(number: int, line: CountLine) -> dict[str, forms.Field]:
    good: forms.Field = WholeField(
        label="Good", required=False, most=line.count or 100_000
    )
    if line.single:
        good = forms.BooleanField(label="In the box, and good", required=False)
    return {
        f"good_{number}": good,
        f"rejected_{number}": WholeField(label="Rejected", required=False),
        f"missing_{number}": WholeField(label="Missing", required=False),
        f"which_{number}": TextField(
            label="Which is missing", required=False, longest=SHORT
        ),
        f"why_{number}": TextField(
            label="What is wrong with it", required=False, longest=SHORT
        ),
    }
