"""Addresses that only a phone's own program asks."""

from django.urls import path

from builds.views.phone import outbox, worker

urlpatterns = [
    path("sw.js", worker.worker, name="worker"),
    path("offline/", worker.offline, name="offline"),
    path("outbox/", outbox.outbox, name="outbox"),
]
