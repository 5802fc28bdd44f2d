"""Addresses with a secret in them."""

from django.urls import path

from builds.views.shared import car, dates

urlpatterns = [
    path("your-car/", car.car_by_link, name="car_by_link"),
    path("your-car/<str:secret>/", car.car_link, name="car_link"),
    path("dates/<str:secret>.ics", dates.dates, name="dates"),
]
