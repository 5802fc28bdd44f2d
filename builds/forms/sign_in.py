"""Name and password, in our own words."""

from __future__ import annotations

from typing import Any

from allauth.account.forms import LoginForm, ReauthenticateForm
from django import forms


class SignInForm(LoginForm):  # type: ignore[misc]
    """What somebody types to come in."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.label_suffix = ""
        self.use_required_attribute = False
        self.fields["login"].label = "Name"
        for field in self.fields.values():
            field.help_text = ""
            field.widget.attrs.pop("placeholder", None)
            field.error_messages["required"] = "Fill this in."
        self.fields["password"].widget = forms.PasswordInput(
            attrs={"autocomplete": "current-password"}
        )


class AgainForm(ReauthenticateForm):  # type: ignore[misc]
    """The password once more."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.label_suffix = ""
        self.use_required_attribute = False
        self.fields["password"].help_text = ""
        self.fields["password"].widget.attrs.pop("placeholder", None)
