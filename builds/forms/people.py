"""Someone who works on cars: name, hours and trades."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, ClassVar, cast

from django import forms
from django.forms import BaseFormSet, formset_factory

from builds.forms.choice import NumberField, RowField
from builds.forms.keeps_week import KeepsWeekForm
from builds.forms.record import Data, RecordForm, Section, VersionIfKnownForm
from builds.forms.text import LONGEST_WORD, LinesField, TextField
from builds.models import PersonTrade

LEVELS = [
    ("3", "signs off"),
    ("2", "works alone"),
    ("1", "beside someone"),
    ("", "no longer"),
]
BLANK_ROWS = 2
MOST_TRADES = 60


class PersonForm(KeepsWeekForm):
    """Someone's facts."""

    ROW: ClassVar[tuple[str, ...]] = ("name", "calendar", "note")
    SECTIONS = (Section("", (("name",), ("calendar",), ("note",))),)

    name = TextField(label="Name")
    calendar = RowField(
        label="Hours",
        help_text="The working week this person keeps.",
        nothing="the workshop’s usual week",
        required=False,
    )
    note = LinesField(label="Note", required=False)


class PersonEditForm(VersionIfKnownForm, PersonForm):
    """The facts of someone who is here; only what is typed anew is changed."""


class TradeForm(RecordForm):
    """One trade of someone."""

    trade = TextField(
        label="Trade",
        longest=LONGEST_WORD,
        required=False,
        widget=forms.TextInput(attrs={"list": "trades"}),
    )
    level = forms.TypedChoiceField(
        label="Level",
        choices=LEVELS,
        coerce=int,
        empty_value=None,
        required=False,
        initial="2",
    )
    pace = NumberField(label="Pace", least=0.01, most=100, required=False)


if TYPE_CHECKING:
    TradeForms = BaseFormSet[TradeForm]
else:
    TradeForms = BaseFormSet


class TradeFormSet(TradeForms):
    """All trades of someone; a trade with no level and no pace is dropped."""

    def clean(self) -> None:
        """Refuse a trade that is there twice."""
        named = [form.cleaned_data["trade"] for form in self.written()]
        for trade in {one for one in named if named.count(one) > 1}:
            raise forms.ValidationError(f"“{trade}” is there twice.")

    def written(self) -> list[TradeForm]:
        """Give the rows with a trade in them."""
        return [form for form in self.forms if form.cleaned_data.get("trade")]

    def levels(self) -> dict[str, int]:
        """Give the level of each trade."""
        return self._column("level")

    def paces(self) -> dict[str, float]:
        """Give the pace of each trade that has one."""
        return self._column("pace")

    def _column(self, name: str) -> dict[str, Any]:
        rows = (form.cleaned_data for form in self.written())
        return {row["trade"]: row[name] for row in rows if row[name] is not None}


def trades_form(data: Data, rows: Iterable[PersonTrade]) -> TradeFormSet:
    """Give the form of someone's trades, with room for more."""
    kept = [{"trade": one.trade, "level": one.level, "pace": one.pace} for one in rows]
    made = formset_factory(
        TradeForm,
        formset=TradeFormSet,
        extra=BLANK_ROWS,
        max_num=MOST_TRADES,
        absolute_max=MOST_TRADES,
    )
    return cast(TradeFormSet, made(data, initial=kept, prefix="trades"))
