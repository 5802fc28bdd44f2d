"""The addresses of what is arranged with outside firms."""

from __future__ import annotations

from django.urls import path

from builds.views.promises import links, private, ring, sending
from builds.views.records import keys

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known
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
    path("v/in/<str:token>/", private.private_door, name="private_door"),
    path("v/date/<plan_key:job_key>/", private.private_date, name="private_date"),
    path("v/", private.private_page, name="private_page"),
]
