"""The addresses of what is arranged with outside firms."""

from __future__ import annotations

from django.urls import path

from builds.views.promises import links, orders, private, ring, sending, ways
from builds.views.records import keys

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known
JOB = "jobs/<plan_key:job_key>/"
VENDOR = "vendors/<plan_key:vendor_key>/"

urlpatterns = [
    path("ring/", ring.ring, name="ring"),
    path("ring/date/<int:number>/accept/", ring.reply_accept, name="reply_accept"),
    path("ring/date/<int:number>/refuse/", ring.reply_refuse, name="reply_refuse"),
    path("ring/<plan_key:job_key>/", ring.ring_log, name="ring_log"),
    path(VENDOR + "links/make/", links.vendor_link_make, name="vendor_link_make"),
    path(
        VENDOR + "links/<int:number>/replace/",
        links.vendor_link_replace,
        name="vendor_link_replace",
    ),
    path(
        VENDOR + "links/<int:number>/revoke/",
        links.vendor_link_revoke,
        name="vendor_link_revoke",
    ),
    path(VENDOR + "links/", links.vendor_links, name="vendor_links"),
    path(VENDOR + "sending/", sending.sending, name="sending"),
    path("orders/", orders.orders, name="orders"),
    path(
        JOB + "order/acknowledged/",
        orders.order_acknowledged,
        name="order_acknowledged",
    ),
    path(JOB + "order/back-order/", orders.order_back_order, name="order_back_order"),
    path(JOB + "order/received/", orders.order_received, name="order_received"),
    path(JOB + "order/rob/", orders.order_rob, name="order_rob"),
    path(JOB + "order/", orders.order, name="order"),
    path(JOB + "ways/<int:number>/remove/", ways.way_remove, name="way_remove"),
    path(JOB + "ways/<int:number>/pick/", ways.way_pick, name="way_pick"),
    path(JOB + "ways/", ways.job_ways, name="job_ways"),
    path("v/in/<str:token>/", private.private_door, name="private_door"),
    path("v/date/<plan_key:job_key>/", private.private_date, name="private_date"),
    path("v/", private.private_page, name="private_page"),
]
