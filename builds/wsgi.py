"""The server's way in."""

import os
from importlib import import_module

from django.conf import settings
from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")

application = get_wsgi_application()
_ = settings.SECRET_KEY  # refuse to start without one, not at the first sign-in

# What the first visitor would otherwise wait for.
import_module(settings.ROOT_URLCONF)
import_module("builds.planning.warm").warm_soon()
