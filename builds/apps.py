"""The name of the app."""

from django.apps import AppConfig


class BuildsConfig(AppConfig):
    """The one app of this site."""

    name = "builds"
    default_auto_field = "django.db.models.BigAutoField"
