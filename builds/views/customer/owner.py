"""The page a customer reads."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from builds.access.gates import customer_only, load_build
from builds.models import Build, User
from builds.selectors.owner import own_cars, owner_page

# Nothing about a customer's car stays behind on a phone that is passed on.
unkept = cache_control(private=True, no_store=True)


@customer_only
@require_safe
@unkept
def my_car(request: HttpRequest) -> HttpResponse:
    """Show the car; with several, or none, show the list."""
    user = cast(User, request.user)
    cars = own_cars(user)
    if len(cars) == 1:
        return _page(request, user.cars.get())
    return render(request, "customer/cars.html", {"cars": cars})


@customer_only
@load_build
@require_safe
@unkept
def my_car_of_several(request: HttpRequest, build: Build) -> HttpResponse:
    return _page(request, build)


def _page(request: HttpRequest, build: Build) -> HttpResponse:
    return render(request, "customer/car.html", {"page": owner_page(build)})
