"""The workshop's plan on the web: who waits for what, and will the car be ready."""

from builds.celery import app as celery_app

__all__ = ["celery_app"]
