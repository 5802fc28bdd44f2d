"""What someone may do, and how fast: a row for each trade."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, cast

from django import forms
from django.forms import BaseFormSet, formset_factory

from builds.actions.errors import Conflict
from builds.forms.choice import NumberField
from builds.forms.record import Clash, Data, RecordForm
from builds.forms.text import LONGEST_WORD, TextField
from builds.models import Person, PersonTrade

LEVELS = [
    ("3", "signs off"),
    ("2", "works alone"),
    ("1", "beside someone"),
    ("", "no longer"),
]
BLANK_ROWS = 2
MOST_TRADES = 60
PREFIX = "trades"
VERSION = f"{PREFIX}-version"


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

    version: int | str = ""  # of the person, as it was on the page
    conflict = False
    clashes: tuple[Clash, ...] = ()
    kept: tuple[PersonTrade, ...] = ()  # as they stand now

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

    def version_seen(self) -> int | None:
        """Give the person's version that was on the page, if it said one."""
        seen = str(self.data.get(VERSION, ""))
        return int(seen) if seen.isdecimal() and len(seen) < 10 else None

    def show_conflict(self, conflict: Conflict) -> None:
        """Keep what was typed, beside what the other person wrote."""
        self.conflict, self.version = True, conflict.version
        trades = dict.fromkeys([*conflict.yours, *conflict.theirs])
        self.clashes = tuple(
            Clash(trade, trade, _say(mine), _say(theirs))
            for trade in trades
            if (mine := conflict.yours.get(trade))
            != (theirs := conflict.theirs.get(trade))
        )

    def _column(self, name: str) -> dict[str, Any]:
        theirs = {one.trade: getattr(one, name) for one in self.kept}
        mine = {row.cleaned_data["trade"]: row.cleaned_data for row in self.written()}
        values = {
            trade: theirs.get(trade) if self._keeps(trade) else mine[trade][name]
            for trade in dict.fromkeys([*mine, *filter(self._keeps, theirs)])
        }
        return {trade: one for trade, one in values.items() if one is not None}

    def _keeps(self, trade: str) -> bool:
        return bool(self.data.get(f"keep-{trade}") == "theirs")


def trades_form(
    data: Data, person: Person, rows: Iterable[PersonTrade]
) -> TradeFormSet:
    """Give the form of someone's trades, with room for more."""
    rows = tuple(rows)
    kept = [{"trade": one.trade, "level": one.level, "pace": one.pace} for one in rows]
    made = formset_factory(
        TradeForm,
        formset=TradeFormSet,
        extra=BLANK_ROWS,
        max_num=MOST_TRADES,
        absolute_max=MOST_TRADES,
    )
    # What was sent is read for itself: a row is not left out because it is there now.
    initial = kept if data is None else None
    form = cast(TradeFormSet, made(data, initial=initial, prefix=PREFIX))
    form.kept = rows
    form.version = person.version if data is None else form.data.get(VERSION, "")
    return form


def _say(level_and_pace: Any) -> str:
    if level_and_pace is None:
        return "nothing"
    level, pace = level_and_pace
    said = [] if level is None else [dict(LEVELS)[str(level)]]
    return ", ".join([*said, *([] if pace is None else [f"pace {pace:g}"])])
