"""The addresses of the lead's pages."""

from __future__ import annotations

from django.urls import include, path

from builds.views.lead import better_plan, cars, hands, morning, moved
from builds.views.records import keys

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known

urlpatterns = [
    path("morning/", morning.morning, name="morning"),
    path("morning/work-out/", morning.work_out, name="work_out"),
    path("moved/", moved.moved, name="moved"),
    path("moved/follow/", moved.plan_follow, name="plan_follow"),
    path("moved/keep/", moved.plan_keep, name="plan_keep"),
    path("better-plan/", better_plan.better_plan, name="better_plan"),
    path("better-plan/look/", better_plan.better_plan_ask, name="better_plan_ask"),
    path("better-plan/stop/", better_plan.better_plan_stop, name="better_plan_stop"),
    path("wall/", morning.wall, name="wall"),
    path("cars/", cars.cars, name="cars"),
    path("cars/<plan_key:build_key>/", cars.car, name="car"),
    path("hands/", hands.hands, name="hands"),
    path("hands/<plan_key:person_key>/", hands.hand, name="hand"),
    path("", include("builds.views.lead.job_urls")),
]
