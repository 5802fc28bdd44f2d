"""An address to be given out: what it opens and for how long."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.actions.share_links import LONGEST_DAYS, USUAL
from builds.forms.choice import WholeField
from builds.forms.record import Data, RecordForm, Section
from builds.models import Build, Person, ShareKind, Vendor

Thing = Build | Person | Vendor
OPENS: tuple[tuple[ShareKind, type[Thing], str], ...] = (
    (ShareKind.CAR, Build, "The customer’s page"),
    (ShareKind.CAR_DATES, Build, "Calendar of a car"),
    (ShareKind.PERSON_DATES, Person, "Calendar of a person"),
    (ShareKind.VENDOR_DATES, Vendor, "Calendar of what comes back from"),
)


class ShareLinkForm(RecordForm):
    """One choice of everything that an address can open."""

    SECTIONS = (Section("", (("opens", "days"),)),)

    opens = forms.ChoiceField(
        label="It opens",
        error_messages={"required": "Choose what it opens."},
    )
    days = WholeField(
        label="For so many days", least=1, most=LONGEST_DAYS, initial=USUAL.days
    )

    def __init__(self, data: Data = None, *, first: str = "") -> None:
        super().__init__(data, initial={"opens": first})
        self.rows: dict[str, tuple[ShareKind, Thing]] = {}
        groups: list[Any] = [("", "Choose")]
        for kind, model, words in OPENS:
            rows = model.objects.filter(left_out=False)
            named = [(f"{kind.value}:{row.key}", str(row)) for row in rows]
            self.rows |= {f"{kind.value}:{row.key}": (kind, row) for row in rows}
            groups.append((words, named))
        field = self.fields["opens"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = groups

    def chosen(self) -> dict[str, Any]:
        """Give what is to be opened."""
        kind, what = self.rows[self.cleaned_data["opens"]]
        return {"kind": kind, "what": what, "days": self.cleaned_data["days"]}
