"""Pairing a phone: whose it is, and the digits it opens with."""

from __future__ import annotations

from typing import Any

from django import forms

from builds.actions.phones import LONGEST, PIN_HOW
from builds.forms.record import Data, RecordForm, Section
from builds.models import Role, User

DIGITS = {"inputmode": "numeric", "autocomplete": "off", "maxlength": LONGEST}


class PhoneForm(RecordForm):
    """Whose phone is to be paired."""

    SECTIONS = (Section("", (("user",),)),)

    user = forms.ChoiceField(
        label="Whose phone", error_messages={"required": "Choose whose phone it is."}
    )

    def __init__(self, data: Data = None) -> None:
        super().__init__(data)
        found = User.objects.filter(role=Role.TECHNICIAN, is_active=True)
        self.users = {str(user.pk): user for user in found}
        field = self.fields["user"]
        assert isinstance(field, forms.ChoiceField)
        named = [(key, str(user)) for key, user in self.users.items()]
        field.choices = [("", "Choose"), *named]

    def chosen(self) -> User:
        """Give whose phone it is."""
        return self.users[self.cleaned_data["user"]]


class PinForm(RecordForm):
    """The digits."""

    SECTIONS = (Section("", (("pin",),)),)

    pin = forms.CharField(
        label="Your digits",
        error_messages={"required": PIN_HOW},
        widget=forms.PasswordInput(attrs=DIGITS),
    )

    def __init__(self, data: Any = None) -> None:
        super().__init__(data)
