"""Addresses of signing in: of django-allauth only what is used here.

Its names stay, as its own pages lead to each other by them. There is no sign-up and
no reset by mail.
"""

from __future__ import annotations

from allauth.account import views as account
from allauth.mfa.base import views as mfa
from allauth.mfa.recovery_codes import views as codes
from allauth.mfa.totp import views as totp
from allauth.mfa.webauthn import views as passkeys
from allauth.usersessions import views as sessions
from django.urls import path

from builds.views.accounts import phones
from builds.views.accounts.sessions import session_end
from builds.views.accounts.sign_in import SignInView

sign_in = SignInView.as_view(template_name="registration/sign_in.html")

urlpatterns = [
    path("sign-in/", sign_in, name="sign_in"),
    path("sign-in/", sign_in, name="account_login"),
    path("sign-in/second/", mfa.authenticate, name="mfa_authenticate"),
    path("sign-in/passkey/", passkeys.login_webauthn, name="mfa_login_webauthn"),
    path("again/", account.reauthenticate, name="account_reauthenticate"),
    path("again/code/", mfa.reauthenticate, name="mfa_reauthenticate"),
    path(
        "again/passkey/",
        passkeys.reauthenticate_webauthn,
        name="mfa_reauthenticate_webauthn",
    ),
    path("factors/", mfa.index, name="mfa_list_webauthn"),
    path("factors/", mfa.index, name="mfa_index"),
    path("factors/codes/", totp.activate_totp, name="mfa_activate_totp"),
    path("factors/codes/stop/", totp.deactivate_totp, name="mfa_deactivate_totp"),
    path(
        "factors/recovery/", codes.view_recovery_codes, name="mfa_view_recovery_codes"
    ),
    path(
        "factors/recovery/new/",
        codes.generate_recovery_codes,
        name="mfa_generate_recovery_codes",
    ),
    path("factors/passkeys/new/", passkeys.add_webauthn, name="mfa_add_webauthn"),
    path(
        "factors/passkeys/<int:pk>/remove/",
        passkeys.remove_webauthn,
        name="mfa_remove_webauthn",
    ),
    path("phones/", phones.phones, name="phones"),
    path("phones/<int:number>/end/", phones.phone_end, name="phone_end"),
    path("pair/<str:secret>/", phones.phone_pair, name="phone_pair"),
    path("pin/", phones.phone_pin, name="phone_pin"),
    path("devices/", sessions.list_usersessions, name="usersessions_list"),
    path("devices/<int:number>/end/", session_end, name="usersessions_end"),
]
