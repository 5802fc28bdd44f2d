"""The server's way in."""

import os

from django.conf import settings
from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")

application = get_wsgi_application()
_ = settings.SECRET_KEY  # refuse to start without one, not at the first sign-in
