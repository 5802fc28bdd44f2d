"""Addresses of the customer's page."""

from django.urls import path

from builds.views.customer import owner
from builds.views.records import keys

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known

urlpatterns = [
    path("my-car/", owner.my_car, name="my_car"),
    path(
        "my-car/<plan_key:build_key>/",
        owner.my_car_of_several,
        name="my_car_of_several",
    ),
]
