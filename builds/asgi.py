"""The server's way in, for servers that speak ASGI."""

import os

from django.conf import settings
from django.core.asgi import get_asgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")

application = get_asgi_application()
_ = settings.SECRET_KEY  # refuse to start without one, not at the first sign-in
