"""Fetch and check in one step, before a view sees anything.

Not signed in: to the sign-in page. The wrong role: 403. Somebody else's car: 404,
as if it were not there. Put the role first and the loading beneath it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.db import models
from django.http import Http404, HttpRequest
from django.http.response import HttpResponseBase

from builds.access import roles
from builds.access.renamed import week_called
from builds.models import (
    Build,
    Consignment,
    Job,
    Person,
    Piece,
    Place,
    Show,
    Vendor,
    WorkCalendar,
)

View = Callable[..., HttpResponseBase]
Row = TypeVar("Row", bound=models.Model)


def _only(allowed: Callable[[roles.Visitor], bool]) -> Callable[[View], View]:
    def gate(view: View) -> View:
        @wraps(view)
        @login_required
        def guarded(
            request: HttpRequest, *args: Any, **kwargs: Any
        ) -> HttpResponseBase:
            if not allowed(request.user):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return guarded

    return gate


lead_only = _only(roles.is_lead)
technician_only = _only(roles.is_technician)
staff_only = _only(roles.is_staff)
customer_only = _only(roles.is_customer)
signed_in = _only(lambda user: user.is_authenticated)


def _load(
    name: str,
    model: type[Row],
    may: Callable[[roles.Visitor, Row], bool],
    find: Callable[[str], Row | None] | None = None,
    along: tuple[str, ...] = (),
) -> Callable[[View], View]:
    """Turn `<name>_key` from the address into the row, or answer 404.

    `along` names what is read in the same step, as every view asks for it.
    """

    def gate(view: View) -> View:
        @wraps(view)
        def loaded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            key = kwargs.pop(f"{name}_key")
            row = find(key) if find else _found(model, key, along)
            if row is None:
                raise Http404
            if not may(request.user, row):
                raise Http404
            return view(request, *args, **{name: row}, **kwargs)

        return loaded

    return gate


def _found(model: type[Row], key: str, along: tuple[str, ...]) -> Row | None:
    rows = model._default_manager.filter(key=key)
    return (rows.select_related(*along) if along else rows).first()


def _staff(user: roles.Visitor, _row: models.Model) -> bool:
    return roles.is_staff(user)


load_build = _load("build", Build, roles.may_view_build)
load_job = _load("job", Job, roles.may_view_job, along=("build",))
load_choice = _load("job", Job, roles.may_choose, along=("build",))
load_person = _load("person", Person, _staff)
load_hand = _load("person", Person, roles.may_view_hours)
load_place = _load("place", Place, _staff)
load_calendar = _load("calendar", WorkCalendar, _staff, week_called)
load_vendor = _load("vendor", Vendor, _staff)
load_show = _load("show", Show, _staff)
load_piece = _load("piece", Piece, _staff)
load_consignment = _load("consignment", Consignment, _staff)
