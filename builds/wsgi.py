"""The server's way in."""

import os
from importlib import import_module

from django.conf import settings
from django.core.wsgi import get_wsgi_application

from builds.celery import app

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")

application = get_wsgi_application()
_ = settings.SECRET_KEY  # refuse to start without one, not at the first sign-in

# A queue that takes the call and never answers may keep a worker waiting, not somebody
# who pressed a button: what they did is kept, and the queue is asked again later.
app.conf.broker_transport_options = settings.CELERY_BROKER_TRANSPORT_OPTIONS | {
    "socket_timeout": 2
}

# What the first visitor would otherwise wait for; the engine once that page is out.
import_module(settings.ROOT_URLCONF)
import_module("builds.planning.warm").warm_soon(after=2.0)
